// temporary
using Xunit.Abstractions;
namespace RoomSupervisor.VirtualHouse.Tests;
public class Probe(ITestOutputHelper o)
{
    [Fact]
    public void Look()
    {
        Weather w = Data.Denver.Value;
        double hor = 0, south = 0, beamS = 0, dif = 0, thr = 0, file = 0, bfile = 0, b = 0, dd = 0, dfile = 0, iso = 0;
        GlassPlan glass = TestCase.Plan(false).Windows[0].Glass; GlassOptics op = new(glass);
        for (int i = 0; i < 8760; i++) { file += w.File.GlobalWPerM2[i]; bfile += w.File.BeamWPerM2[i]; dfile += w.File.DiffuseWPerM2[i]; }
        DateTimeOffset start = new(2001, 1, 1, 7, 0, 0, TimeSpan.Zero);
        for (int i = 0; i < 8760 * 12; i++)
        {
            w.At(start.AddMinutes(5 * i + 2.5), out WeatherNow n);
            TiltedSun s = new(n.SunElevationDegrees, n.SunAzimuthDegrees, n.BeamWPerM2, n.DiffuseWPerM2);
            s.On(0, 0, 0.2, out double be, out double sp, out _); hor += (be + sp) / 12;
            s.On(90, 180, 0.2, out be, out sp, out double c); south += (be + sp) / 12; beamS += be / 12; dif += sp / 12;
            op.At(c, out double t, out _, out _); thr += (be * t + sp * op.DiffuseThrough) / 12;
            b += n.BeamWPerM2 / 12; dd += n.DiffuseWPerM2 / 12;
            iso += (n.BeamWPerM2 * c + n.DiffuseWPerM2 / 2 + 0.1 * (n.DiffuseWPerM2 + n.BeamWPerM2 * Math.Max(0, Math.Sin(n.SunElevationDegrees * Math.PI / 180)))) / 12;
        }
        o.WriteLine($"hor {hor / 1000} file {file / 1000} beam {b / 1000} file {bfile / 1000} diff {dd / 1000} file {dfile / 1000} south {south / 1000} iso {iso / 1000} (beam {beamS / 1000} spread {dif / 1000}) through {thr / 1000} g {glass.NormalG()}");
        op.At(1, out double t0, out double o0, out double i0);
        o.WriteLine($"normal {t0} {o0} {i0} diffuse {op.DiffuseThrough} {op.DiffuseOuter} {op.DiffuseInner}");
        o.WriteLine($"repairs {w.File.Repairs.Count} {Data.NewYork.Value.File.Repairs.Count} {Data.Chicago.Value.File.Repairs.Count} frost {w.File.FrostPointHours} {Data.NewYork.Value.File.FrostPointHours} {Data.Chicago.Value.File.FrostPointHours}");
        foreach (var x in new[] { w, Data.NewYork.Value, Data.Chicago.Value }) foreach (var g in x.File.Repairs.GroupBy(r => r.Rule)) o.WriteLine($"{x.File.Place} {g.Count()} {g.Key}: {g.First()}");
    }
}
