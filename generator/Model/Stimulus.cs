using Locum.Wire;

namespace Locum.Model;

/// <summary>What happens around the boards while they are simulated. Times in µs since power-on.</summary>
public sealed record Stimulus
{
    /// <summary>A quiet second.</summary>
    public static Stimulus Quiet { get; } = new() { EndUs = 1_000_000 };

    public string Name { get; init; } = "";

    public required long EndUs { get; init; }

    /// <summary>Changes of inputs, in order of time; every input starts inactive.</summary>
    public IReadOnlyList<InputChange> Inputs { get; init; } = [];

    public IReadOnlyList<Traffic> Traffic { get; init; } = [];

    /// <summary>Times in which no frame starts on a bus.</summary>
    public IReadOnlyList<Blocked> Blocked { get; init; } = [];

    /// <summary>Times in which the boards do not step.</summary>
    public IReadOnlyList<Stall> Stalls { get; init; } = [];

    /// <summary>Bus-offs of the boards' controllers, in order of time.</summary>
    public IReadOnlyList<BusOff> BusOffs { get; init; } = [];

    /// <summary>Resets of the boards, in order of time, at most one at a time.</summary>
    public IReadOnlyList<Reset> Resets { get; init; } = [];

    /// <summary>What the boards' 32-bit clock shows at power-on.</summary>
    public uint Clock { get; init; }
}

/// <summary>An input becomes active or inactive.</summary>
public sealed record InputChange(long AtUs, string Input, bool Active);

/// <summary>A cyclic frame of another node.</summary>
public sealed record Traffic(string Bus, CanId Id, byte[] Data, long FirstUs, long PeriodUs, long UntilUs)
{
    public FrameFormat Format { get; init; }
}

/// <summary>The controllers of all boards on a bus go bus-off.</summary>
public sealed record BusOff(long AtUs, string Bus);

/// <summary>All boards start anew.</summary>
public sealed record Reset(long AtUs, ResetCause Cause);

public sealed record Blocked(string Bus, long FromUs, long UntilUs);

public sealed record Stall(long FromUs, long UntilUs);
