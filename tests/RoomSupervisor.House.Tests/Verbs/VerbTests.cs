// The verbs as a person types them: the built program, its words and its exit codes.
using System.Diagnostics;
using System.Text.Json;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Story;

namespace RoomSupervisor.House.Tests.Verbs;

public sealed class VerbTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("verbs-");

    public void Dispose() => folder.Delete(true);

    private static double Json(string text, string key) => JsonDocument.Parse(text).RootElement.GetProperty(key).GetDouble();

    private string Site(Func<string, string>? change = null, Func<string, string>? household = null)
    {
        var example = Root.At("config", "one-room");
        File.WriteAllText(Path.Combine(folder.FullName, "site.yaml"), (change ?? (text => text))(File.ReadAllText(Path.Combine(example, "site.yaml"))));
        File.WriteAllText(Path.Combine(folder.FullName, "household.yaml"), (household ?? (text => text))(File.ReadAllText(Path.Combine(example, "household.yaml"))));
        return folder.FullName;
    }

    [Fact]
    public void Air_at_26_degrees_and_60_percent_is_what_the_published_form_says()
    {
        // ASHRAE Handbook Fundamentals ch. 1 equations as computed by an open psychrometric library (shared/PROVENANCE.md): dew point 17.639, wet bulb 20.338, W 12.6377 g/kg, h 58.374, v 0.8647.
        var (code, text, _) = TypedHere.Verb("air", "26", "60%", "--json");
        Assert.Equal(0, code);
        Assert.Equal(17.639, Json(text, "dew_point_c"), 0.005);
        Assert.Equal(20.338, Json(text, "wet_bulb_c"), 0.005);
        Assert.Equal(0.0126377, Json(text, "humidity_ratio_kg_per_kg"), 1e-6);
        Assert.Equal(58.374, Json(text, "enthalpy_kj_per_kg"), 0.01);
        Assert.Equal(0.8647, Json(text, "specific_volume_m3_per_kg"), 0.0001);
        Assert.Equal(101325, Json(text, "pressure_pa"));
        Assert.Equal(26, Json(text, "dry_bulb_c"));
        Assert.Equal(60, Json(text, "relative_humidity_percent"));
    }

    [Theory]
    [InlineData("31.6", "59.6%", 22.8)]
    [InlineData("29.3", "75.4%", 24.5)]
    [InlineData("27.1", "66.4%", 20.3)]
    [InlineData("40", "50%", 27.6)]
    public void Air_agrees_with_the_dew_points_in_the_tests_of_a_comfort_library(string temperature, string humidity, double dewPoint) =>
        // pythermalcomfort (open source), test file of its dew point function, ± 0.1 K as there.
        Assert.Equal(dewPoint, Json(TypedHere.Verb("air", temperature, humidity, "--json").Out, "dew_point_c"), 0.1);

    [Theory]
    [InlineData("air", "26", "0.6", "if a share of 1 was meant, write 60%")]
    [InlineData("air", "26", "0.07", "if a share of 1 was meant, write 7%")]
    [InlineData("run", "--help", "", "Exit code 0 stopped as told, 1 stopped on an error of its own, 2 could not start")]
    [InlineData("--version", "", "", "0.")]
    public void The_program_helps_where_people_stumble(string first, string second, string third, string says) =>
        // The help is broken into lines as wide as the terminal.
        Assert.Contains(says, string.Join(' ', Typed.Verb([.. new[] { first, second, third }.Where(word => word.Length > 0)]).Out.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);

    [Fact]
    public void A_temperature_out_of_range_is_told_in_both_unit_systems() =>
        Assert.Contains("from -60 °C to 90 °C (from -76 °F to 194 °F)", Typed.Verb("air", "300F", "60%").Error, StringComparison.Ordinal);

    [Fact]
    public void Air_understands_fahrenheit_altitude_and_negative_temperatures()
    {
        var (_, text, _) = TypedHere.Verb("air", "79F", "60%", "--altitude", "500m", "--json");
        Assert.Equal((79.0 - 32) / 1.8, Json(text, "dry_bulb_c"), 1e-9);
        Assert.Equal(95461, Json(text, "pressure_pa"), 1.0);   // ASHRAE Handbook Fundamentals ch. 1, Table 1 (500 m)
        (_, text, _) = TypedHere.Verb("air", "-5", "80%", "--json");
        Assert.Equal(-5, Json(text, "dry_bulb_c"));
        (var code, text, _) = TypedHere.Verb("air", "26", "60%");
        Assert.Equal(0, code);
        Assert.Contains("17.64 °C", text, StringComparison.Ordinal);
        Assert.Contains("63.75 °F", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("140%", "relative humidity 140 % is not possible here: more than 0 % to 103 %")]
    [InlineData("0%", "more than 0 % to 103 %")]
    [InlineData("60C", "a percentage is wanted")]
    [InlineData("sixty", "is not a number")]
    public void Air_refuses_what_cannot_be_with_its_range(string humidity, string says)
    {
        var (code, _, error) = TypedHere.Verb("air", "26", humidity);
        Assert.Equal(2, code);
        Assert.Contains(says, error, StringComparison.Ordinal);
    }

    [Fact]
    public void Air_counts_a_little_over_saturation_as_saturated_and_says_so()
    {
        var (code, text, _) = TypedHere.Verb("air", "20", "102%");
        Assert.Equal(0, code);
        Assert.Contains("counts as 100 %", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Check_is_0_when_clean_1_with_warnings_2_with_errors_and_tells_them_all()
    {
        var (code, text, _) = Typed.Verb("check", Site());
        Assert.Equal(0, code);
        Assert.Contains("weaving-room.air.temperature", text, StringComparison.Ordinal);
        (code, text, _) = Typed.Verb("check", Site(household: file => file.Replace("fan_at_most: 20 %", "fan_at_most: 0 %", StringComparison.Ordinal)));
        Assert.Equal(1, code);
        Assert.Contains("warning", text, StringComparison.Ordinal);
        (code, text, _) = Typed.Verb("check", "--site", Site(file => file.Replace("altitude: 12 m", "altitude: 12 kW", StringComparison.Ordinal).Replace("port: 502", "prt: 502", StringComparison.Ordinal)));
        Assert.Equal(2, code);
        Assert.Contains("site.yaml:7:13: error: site.altitude", text, StringComparison.Ordinal);
        Assert.Contains("did you mean port?", text, StringComparison.Ordinal);
        Assert.Contains("2 error(s)", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Run_and_lockstep_start_nothing_on_a_broken_site()
    {
        foreach (var verb in new[] { "run", "lockstep" })
        {
            var (code, text, error) = Typed.Verb(verb, Site(file => file.Replace("altitude: 12 m", "altitude: .nan", StringComparison.Ordinal)));
            Assert.Equal(2, code);
            Assert.Equal("", text);
            Assert.Contains("site.altitude", error, StringComparison.Ordinal);
            Assert.False(Directory.Exists(Path.Combine(folder.FullName, "log")));
        }
    }

    [Fact]
    public void Run_without_wires_says_that_there_is_nothing_to_run()
    {
        var site = Site(file =>
        {
            var unwired = string.Join('\n', file.Split('\n').Where(line => !line.Contains("device: io-1", StringComparison.Ordinal) && line.Trim() != "points:"));
            return unwired[..unwired.IndexOf("devices:", StringComparison.Ordinal)];
        });
        var (code, _, error) = Typed.Verb("run", site);
        Assert.Equal(2, code);
        Assert.Contains("nothing is wired", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("check")]
    [InlineData("air")]
    public void An_output_that_cannot_be_written_is_bad_input_and_never_only_warnings(string verb)
    {
        // The kernel's own full disk. Exit code 1 would tell a script that the files have warnings and may be used.
        var start = new ProcessStartInfo("/bin/sh") { RedirectStandardError = true };
        string[] words = ["-c", "exec \"$@\" > /dev/full", "sh", ControllerProcess.ProgramBeside(AppContext.BaseDirectory), verb];
        foreach (var word in verb == "check" ? [.. words, Site()] : (string[])[.. words, "26", "60%"])
            start.ArgumentList.Add(word);
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEnd();
        process.WaitForExit();
        Assert.Equal(2, process.ExitCode);
        Assert.Contains("No space left on device", error, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_site_that_is_not_named_or_not_there_is_told()
    {
        Assert.Contains("which site?", Typed.Verb("check").Error, StringComparison.Ordinal);
        var (code, text, _) = Typed.Verb("check", Path.Combine(folder.FullName, "nowhere"));
        Assert.Equal(2, code);
        Assert.Contains("there is no such directory", text, StringComparison.Ordinal);
        Assert.Equal(2, Typed.Verb("frobnicate").Code);
    }
}
