// Yardstick benchmarks: how long a thing takes, beside something everyone knows, in the same run.
//
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- --filter '*Physics*'
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- --job short --filter '*'
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- reload
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- rooms [64: this size alone, for a profiler]
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- buses
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- records
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- replay
//
// The Ratio column is against one Math.Log plus one Math.Exp. Limits: dew point 4, wet bulb 12; wet coil 1 µs; Allocated must be "-".
// BenchmarkDotNet writes under BenchmarkDotNet.Artifacts/, which is not kept. A class a part of the house; add others beside PhysicsBench.
// Must never be part of the tests: a busy machine makes any of these numbers worse.
using BenchmarkDotNet.Running;

if (args is ["reload", ..])
{
    var folder = AppContext.BaseDirectory;
    while (!File.Exists(Path.Combine(folder, "RoomSupervisor.sln")))
        folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("RoomSupervisor.sln");
    return RoomSupervisor.Bench.ReloadMeasure.Run(Path.Combine(folder, "config", "ferry-house"));
}
if (args is ["rooms", ..])
    return args.Length > 1 ? RoomSupervisor.Bench.RoomsBench.Watch(int.Parse(args[1], System.Globalization.CultureInfo.InvariantCulture)) : RoomSupervisor.Bench.RoomsBench.Run();
if (args is ["records", ..])
    return RoomSupervisor.Bench.RecordsBench.Run();
if (args is ["replay", ..])
{
    var folder = AppContext.BaseDirectory;
    while (!File.Exists(Path.Combine(folder, "RoomSupervisor.sln")))
        folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("RoomSupervisor.sln");
    return RoomSupervisor.Bench.ReplayBench.Run(Path.Combine(folder, "config", "ferry-house"));
}
if (args is ["buses", ..])
    return RoomSupervisor.Bench.BusesBench.Run() | RoomSupervisor.Bench.BusCostBench.Run();
BenchmarkSwitcher.FromAssembly(typeof(RoomSupervisor.Bench.PhysicsBench).Assembly).Run(args);
return 0;
