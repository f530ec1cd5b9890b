using BenchmarkDotNet.Attributes;
using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Rendering;
using Locum.Simulation;
using Locum.Wire;

namespace Locum.Benchmarks;

/// <summary>The stages one by one, warm.</summary>
[MemoryDiagnoser]
[ShortRunJob]
public class StageBenchmarks
{
    private readonly string _demo = Inputs.Demo;
    private readonly byte[] _payload = [0x00, 0x7F, 0x3C, 0xFF, 0x55, 0xAA, 0xF0, 0x01];
    private readonly CanId _id = new(0x2D1, false);
    private CrcParameters _crc8 = null!;
    private BoardPlan _twelve = null!;
    private BoardPlan _hundred = null!;
    private Stimulus _busy = null!;
    private Stimulus _quiet = null!;

    [GlobalSetup]
    public void Setup()
    {
        (_twelve, _busy) = Inputs.Twelve();
        (_hundred, _quiet) = Inputs.Hundred();
        _crc8 = CrcCatalogue.Find("crc8-sae-j1850") ?? throw new InvalidOperationException("the rule has gone");
    }

    [Benchmark]
    public int Load_demo() => Loader.Load(_demo).Plans.Count;

    [Benchmark]
    public int Render_twelve() => FirmwareRenderer.Render(_twelve, "benchmark", "0").Count;

    [Benchmark]
    public int Simulate_twelve_5_s() => Simulator.Run([_twelve], _busy).Frames.Count;

    [Benchmark]
    public int Simulate_hundred_5_s() => Simulator.Run([_hundred], _quiet).Frames.Count;

    [Benchmark]
    public ulong Crc8_of_8_bytes() => Crc.Compute(_crc8, _payload);

    [Benchmark]
    public int Frame_length_of_8_bytes() => FrameLength.Bits(_id, _payload);
}
