using Locum.Binding;

namespace Locum.Schema;

/// <summary>The keys of a board's guards.</summary>
internal static class GuardSections
{
    private static readonly Section s_busOff = new()
    {
        Name = "bus-off-guard",
        What = "the guard against bus-off",
        Description = "How often the board comes back from bus-off before it is silent for good.",
        Keys =
        [
            new("recoveries", new Whole(0, GuardBinder.MostRecoveries), "Most restarts of a bus within the time.", "5") { Default = "5" },
            new("within", Shapes.Time, "Time over which they are counted, from the first on.", "60 s") { Default = "60 s" },
            new("wait", Shapes.Time, "Pause before a restart.", "1 s") { Default = "1 s" },
        ],
    };

    private static readonly Section s_enable = new()
    {
        Name = "enable-guard",
        What = "the enable guard",
        Description = "An input without which the board is silent.",
        Keys =
        [
            new("input", Shapes.Name, "Its name; pin and pull stand under 'inputs'. A module may have the same one.", "bench-switch") { Required = true },
            new("active", new Words("high", "low"), "The level that counts as active; as in the module, or high.", "low"),
            new("debounce", Shapes.Time, "A level counts when it has been steady for this long; as in the module, or 0.", "20 ms"),
        ],
    };

    private static readonly Section s_brownOuts = new()
    {
        Name = "brown-out-guard",
        What = "the guard against brown-outs",
        Description = "How many brown-out resets in a row a board with outputs takes before it switches nothing any more.",
        Keys =
        [
            new("most", new Whole(0, GuardBinder.MostBrownOuts), "Brown-outs after which outputs still switch.", "3") { Default = "3" },
            new("steady", Shapes.Time, "After this time without a reset they are forgotten.", "10 s") { Default = "10 s" },
        ],
    };

    public static Section Guards { get; } = new()
    {
        Name = "guards",
        What = "a set of guards",
        Description = "When the board must not send.",
        Keys =
        [
            new("foreign sender", new Words("silent", "ignore"), "silent: for good, when another node sends one of the board's identifiers.", "silent"),
            new("bus off", new Mapping(s_busOff), "After bus-off: a pause, a restart, silence for good when it happens too often.", "{recoveries: 5, within: 60 s, wait: 1 s}"),
            new("enable", new Mapping(s_enable), "Silent while an input is not active.", "{input: bench-switch}"),
            new("run at most", Shapes.Time, "Silent for good after this time.", "8 h"),
            new("brown-outs", new Either(new Words("ignore"), new Mapping(s_brownOuts)), "Ends the circle of a load that pulls the supply down, a reset, and the load again.", "{most: 3, steady: 10 s}"),
            new("reset", new Words("cold", "resume"), "resume: modes go on after a watchdog reset.", "resume") { Default = "cold" },
        ],
    };
}
