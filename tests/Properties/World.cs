using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>What the modules of one generated board share: buses, inputs, identifiers and the pace of time.</summary>
internal sealed class World
{
    private static readonly string[] s_rates = ["1 Mbit/s", "500 kbit/s", "250 kbit/s", "125 kbit/s", "100 kbit/s", "83.333 kbit/s", "33.333 kbit/s"];
    private static readonly int[] s_rateValues = [1_000_000, 500_000, 250_000, 125_000, 100_000, 83_333, 33_333];
    private static readonly string[] s_dataRates = ["8 Mbit/s", "5 Mbit/s", "2 Mbit/s", "1 Mbit/s"];
    private static readonly int[] s_dataRateValues = [8_000_000, 5_000_000, 2_000_000, 1_000_000];

    public World(Dice dice, long leastUs)
    {
        LeastUs = leastUs;
        Pace = dice.Chance(15) ? 5_000 : 1;
        var fd = dice.Chance(20);
        for (var i = dice.Between(1, 3); i > 0; i--)
            Buses.Add(DrawBus(dice, dice.Pick("body", "drive", "Größe 7") + $"-{i}", fd && dice.Chance(80)));
        for (var i = dice.Chance(20) ? 0 : dice.Between(1, 5); i > 0; i--)
            Inputs.Add(new WorldInput($"{dice.Pick("run", "line.x", "Tür")} {i}", dice.Chance(60), dice.Chance(20) ? 0 : dice.Time(1, 30_000 * Pace)));
        SharedBase = (uint)dice.Between(0, 0x7FF);
    }

    /// <summary>Factor on every time: 1, or slow enough that stays are counted in laps.</summary>
    public long Pace { get; }

    /// <summary>Stimuli last at least so long; 0: as long as what happens in them.</summary>
    public long LeastUs { get; }

    public List<WorldBus> Buses { get; private set; } = [];

    public List<WorldInput> Inputs { get; private set; } = [];

    /// <summary>What the modules listen to; stimuli send it.</summary>
    public List<DrawnReceive> Heard { get; } = [];

    /// <summary>Channels on which the modules answer; testers in stimuli ask there.</summary>
    public List<DrawnChannel> Channels { get; } = [];

    /// <summary>Nodes of SAE J1939 of the modules; stimuli talk to them.</summary>
    public List<DrawnNode> Nodes { get; } = [];

    /// <summary>Base identifier that many frames share, so that the formats meet in arbitration.</summary>
    public uint SharedBase { get; }

    /// <summary>Forgets what no module was put on.</summary>
    public void Keep(ICollection<WorldBus> buses, ICollection<WorldInput> inputs)
    {
        Buses = [.. Buses.Where(buses.Contains)];
        Inputs = [.. Inputs.Where(inputs.Contains)];
    }

    /// <summary>An identifier that is not used on the bus yet.</summary>
    public CanId NewId(Dice dice, WorldBus bus)
    {
        while (true)
        {
            var id = AnyId(dice);
            if (bus.Ids.Add(id))
                return id;
        }
    }

    public CanId AnyId(Dice dice) => dice.Between(0, 5) switch
    {
        0 => new CanId(SharedBase, false),
        1 => new CanId(SharedBase << 18 | (uint)dice.Between(0, 3), true),
        2 => new CanId((uint)dice.Between(0, 0x7FF), true),
        3 => new CanId((uint)dice.Between(0, 0x1FFF_FFFF), true),
        _ => new CanId((uint)dice.Between(0, 0x7FF), false),
    };

    private static WorldBus DrawBus(Dice dice, string name, bool fd)
    {
        var rate = dice.Between(0, s_rates.Length - 1);
        var data = dice.Between(0, s_dataRates.Length - 1);
        var text = $"rate: {s_rates[rate]}{(dice.Chance(50) ? ", sample point: 80 %" : "")}";
        return fd ? new WorldBus(name, s_rateValues[rate], s_dataRateValues[data], $"{{{text}, data rate: {s_dataRates[data]}}}")
            : new WorldBus(name, s_rateValues[rate], null, $"{{{text}}}");
    }
}

/// <param name="DataRate">Bits per second of CAN FD's data phase; null on a classic bus.</param>
internal sealed record WorldBus(string Name, int Rate, int? DataRate, string Text)
{
    public HashSet<CanId> Ids { get; } = [];

    /// <summary>Addresses of nodes of SAE J1939.</summary>
    public HashSet<byte> Addresses { get; } = [];
}

internal sealed record WorldInput(string Name, bool High, long DebounceUs);
