using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Proving;
using Locum.Rendering;
using Locum.Simulation;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Firmware;

/// <summary>Builds a board's real firmware with its cross compiler and runs it on the emulated microcontroller.</summary>
internal sealed class EmulatedBoard : IDisposable
{
    // Boards are called stm32CHIP-CONTROLLER.
    private const string ChipPrefix = "stm32";
    private const long OwnClockHz = 80_000_000;

    private readonly TempFolder _folder = new();
    private readonly BoardPlan _plan;
    private readonly string _built;

    /// <param name="change">Changes a generated file before it is compiled, for boards that must be found faulty.</param>
    public EmulatedBoard(BoardPlan plan, Func<OutputFile, OutputFile>? change = null)
    {
        _plan = plan;
        var files = FirmwareRenderer.Render(plan, "test", Versions.Generator);
        // A changed one is not met again.
        (_built, BuildLog) = change is null
            ? FirmwareBuilds.Of(plan.Kind.Name, files, Build)
            : (_folder.Path(), Build(_folder.Path(), [.. files.Select(change)]));
    }

    /// <summary>A board with one text changed in one generated file; the text must be there.</summary>
    public static EmulatedBoard Mutated(BoardPlan plan, string path, string right, string wrong) =>
        Mutated(plan, (path, right, wrong));

    /// <summary>A board with texts of its generated files changed; each must be there.</summary>
    public static EmulatedBoard Mutated(BoardPlan plan, params (string Path, string Right, string Wrong)[] changes)
    {
        var missing = changes.ToHashSet();
        var board = new EmulatedBoard(plan, file =>
        {
            foreach (var change in changes.Where(c => c.Path == file.Path && file.Text.Contains(c.Right, StringComparison.Ordinal)))
            {
                missing.Remove(change);
                file = file with { Text = file.Text.Replace(change.Right, change.Wrong, StringComparison.Ordinal) };
            }
            return file;
        });
        Assert.Empty(missing);
        return board;
    }

    public string BuildLog { get; }

    /// <summary>The linked firmware.</summary>
    public string Elf => IsTwai ? Path.Combine(_built, "program", "firmware") : Path.Combine(_built, "firmware", IsHosted ? "firmware" : "firmware.elf");

    /// <summary>What the board does with a stimulus whose time starts when the firmware's clock does.</summary>
    /// <param name="extra">More options for the emulator.</param>
    public EmulatedRun Run(Stimulus stimulus, params string[] extra)
    {
        var start = Emulate(new Stimulus { EndUs = 20_000 }, extra).Measures["clock_start_us"];
        var delays = Enumerable.Repeat((long)Math.Ceiling(start), stimulus.Resets.Count + 1).ToList();
        while (true)
        {
            var clock = new LifeClock(stimulus.Resets, delays);
            var run = new EmulatedRun(Emulate(clock.ForBoard(stimulus), extra), clock);
            // How long a start takes is known when it has been seen; the next run places what comes behind it.
            var seen = run.Output.Lives.Skip(1).Zip(clock.Resets, (zero, reset) => (long)Math.Ceiling(zero) - reset).ToList();
            if (seen.Count < stimulus.Resets.Count || seen.SequenceEqual(delays.Skip(1)))
                return run;
            delays = [delays[0], .. seen];
        }
    }

    /// <summary>The simulator's result for the same stimulus.</summary>
    public SimulationResult Simulate(Stimulus stimulus) => Simulator.Run([_plan], stimulus);

    /// <summary>What the board does with a stimulus in its own time, from power-on.</summary>
    public ProgramOutput Emulate(Stimulus stimulus, params string[] extra)
    {
        // What drives an input, also an output of its name, is outside: the script.
        File.WriteAllText(_folder.Path("script"), ProofScript.Of(_plan with { Outputs = [] }, stimulus).Replace("clock 0\n", "", StringComparison.Ordinal));
        string[] arguments = [_folder.Path("script"), .. Options(), .. extra];
        if (IsTwai)
            return ProgramOutput.Parse(Shell.Must(Elf, arguments), _plan);
        var program = _plan.Kind.ControllerKind switch
        {
            _ when IsRp2040 => Emulators.Rp2040,
            "mcp2515" => Emulators.Avr,
            "socketcan" => Emulators.SocketCan,
            "sam3x" => Emulators.Sam3x,
            "flexcan" => Emulators.Imxrt,
            _ => Emulators.Stm32,
        };
        return ProgramOutput.Parse(Shell.Must(program, [Elf, .. arguments]), _plan);
    }

    public void Dispose() => _folder.Dispose();

    // A board of one's own is filled in for the model of the TWAI driver.
    private bool IsTwai => _plan.Kind.ControllerKind is "twai" or "own";

    private bool IsRp2040 => _plan.Kind.Name.StartsWith("rp2040", StringComparison.Ordinal);

    private bool IsHosted => _plan.Kind.ControllerKind is "socketcan";

    private string Build(string folder, IReadOnlyList<OutputFile> files)
    {
        var firmware = Path.Combine(folder, "firmware");
        OutputFolder.Write(firmware, files);
        return IsTwai
            ? Shell.Must("make", ["-C", RepoRoot.Path("tests", "emulators", "twai"), "program", $"FIRMWARE={firmware}", $"MODEL={Emulators.Twai}", $"OUT={Path.Combine(folder, "program")}", .. Quick])
            : Shell.Must("make", ["-C", firmware, .. Quick]);
    }

    // A program for the PC takes less time to build than it saves by being quick; a long run has it as its user does.
    private IEnumerable<string> Quick => Cases.Long ? [] : IsTwai ? ["LEVEL=-O0"] : IsHosted ? ["CC=tcc"] : [];

    private IEnumerable<string> Options()
    {
        if (IsHosted)
            return HostedOptions();
        if (IsTwai)
            return TwaiOptions();
        return [.. ChipOptions().Concat(_plan.Inputs.Select(i => ("--input", $"{i.Index}={i.Pin!.PortPin[1..]}"))).SelectMany(o => new[] { o.Item1, o.Item2 })];
    }

    private IEnumerable<string> HostedOptions()
    {
        yield return Emulators.SocketCan.Replace("socketcan_board", "socketcan_stub.so", StringComparison.Ordinal);
        foreach (var bus in _plan.Buses)
        {
            yield return "--rate";
            yield return $"{bus.Settings["interface"]}={bus.Rate}/{bus.DataRate ?? bus.Rate}/{(_plan.Guards.BusOff is null ? 1 : 0)}";
        }
        foreach (var input in _plan.Inputs)
        {
            yield return "--input";
            yield return $"{input.Index}={input.Pin!.PortPin[2..]}";
        }
    }

    private IEnumerable<string> TwaiOptions() =>
    [
        "--clock", $"{(_plan.Kind.ControllerClockHz > 0 ? _plan.Kind.ControllerClockHz : OwnClockHz)}",
        .. _plan.Buses.SelectMany(b => new[] { "--rate", $"{b.Index}={b.Rate}" }),
        .. _plan.Buses.Where(b => b.ControllerKind is "mcp2515").SelectMany(b => new[] { "--spi", SpiOfEsp32(b) }),
        .. _plan.Inputs.SelectMany(i => new[] { "--input", $"{i.Index}={i.Pin!.PortPin[2..]}" }),
    ];

    private static string SpiOfEsp32(PlannedBus bus) =>
        string.Join(',', new[] { $"{bus.Index}", $"{Locum.Binding.Quantity.Frequency(bus.Settings["crystal"])}" }.Concat(new[] { "cs", "int", "sck", "mosi", "miso" }.Select(p => bus.Pins[p].PortPin[2..])));

    private IEnumerable<(string Name, string Value)> ChipOptions() => _plan.Kind.ControllerKind switch
    {
        _ when IsRp2040 => [.. _plan.Buses.Select(b => ("--rate", Rates(b))), .. _plan.Buses.Select(b => ("--spi", Spi(b)))],
        "mcp2515" => _plan.Buses.Select(Mcp2515),
        "flexcan" => [.. _plan.Buses.Select(b => ("--rate", Rates(b))), .. _plan.Buses.Select(b => ("--on", $"{b.Index}={b.Settings["controller"]}"))],
        "sam3x" => _plan.Buses.Select(b => ("--rate", $"{b.Index}={b.Rate}")),
        _ => [("--chip", _plan.Kind.Name[ChipPrefix.Length.._plan.Kind.Name.IndexOf('-')]), .. _plan.Buses.SelectMany(Stm32)],
    };

    private static string Rates(PlannedBus bus) => $"{bus.Index}={bus.Rate}{(bus.DataRate is { } data ? $"/{data}" : "")}";

    private string Spi(PlannedBus bus) =>
        $"{_plan.Kind.ControllerKind},{bus.Pins["cs"].PortPin[2..]},{bus.Pins["int"].PortPin[2..]},{Locum.Binding.Quantity.Frequency(bus.Settings["crystal"])}";

    private static (string Name, string Value) Mcp2515(PlannedBus bus) =>
        ("--controller", $"CS={bus.Pins["cs"].PortPin[1..]},INT={bus.Pins["int"].PortPin[1..]},crystal={Locum.Binding.Quantity.Frequency(bus.Settings["crystal"])},rate={bus.Rate}");

    private static IEnumerable<(string Name, string Value)> Stm32(PlannedBus bus)
    {
        yield return ("--rate", $"{bus.Index}={bus.Rate}");
        if (bus.DataRate is { } dataRate)
            yield return ("--data-rate", $"{bus.Index}={dataRate}");
        yield return ("--can-pins", $"{bus.Index}={bus.Settings["pins"]}");
    }
}

/// <summary>A run of an emulated board; its times count from power-on.</summary>
/// <param name="Clock">What the simulator calls these times.</param>
internal sealed record EmulatedRun(ProgramOutput Output, LifeClock Clock);
