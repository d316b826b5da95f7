// Everything that is written from the declarations: schemas, reference, commented files. tools/generate writes them, a test compares.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site.Forms;

/// <summary>One file as it must be.</summary>
/// <param name="Path">Path from the repository's root.</param>
/// <param name="Text">What it holds.</param>
public sealed record GeneratedFile(string Path, string Text);

/// <summary>The generated files.</summary>
public static class GeneratedFiles
{
    /// <param name="drivers">Drivers the program has.</param>
    public static IReadOnlyList<GeneratedFile> All(IReadOnlyList<DriverDeclaration> drivers) =>
    [
        new("shared/schema/site.schema.json", SchemaWriter.Write("site.yaml of Room Supervisor", SiteForm.Of(drivers))),
        new("shared/schema/household.schema.json", SchemaWriter.Write("household.yaml of Room Supervisor", HouseholdForm.Form)),
        new("shared/reference/parameters.md", ReferenceWriter.Write(drivers)),
        new("shared/reference/site-commented.yaml", SkeletonWriter.File(
            SiteForm.Of(drivers), UnitSystem.Metric,
            "Every key of site.yaml. Written by tools/generate; do not edit. Take what you need: a line that begins with # and a key is off, and shows the default.",
            "yaml-language-server: $schema=../schema/site.schema.json")),
        new("shared/reference/household-commented.yaml", SkeletonWriter.File(
            HouseholdForm.Form, UnitSystem.Metric,
            "Every key of household.yaml. Written by tools/generate; do not edit. Take what you need: a line that begins with # and a key is off, and shows the default.",
            "yaml-language-server: $schema=../schema/household.schema.json")),
    ];
}
