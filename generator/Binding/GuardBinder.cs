using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Binding;

/// <summary>The guards of a board.</summary>
internal static class GuardBinder
{
    public const int MostRecoveries = 255;
    public const int MostBrownOuts = 250;

    private static readonly Dictionary<string, bool> s_foreign = new(StringComparer.Ordinal) { ["silent"] = true, ["ignore"] = false };

    private static readonly Dictionary<string, bool> s_brownOuts = new(StringComparer.Ordinal) { ["ignore"] = false };

    private static readonly Dictionary<string, bool> s_resume = new(StringComparer.Ordinal) { ["cold"] = false, ["resume"] = true };

    public static Guards Bind(MappingReader board, DiagnosticBag diagnostics)
    {
        if (board.Optional("guards") is not { } node || node is ScalarNode { Quoted: false, Value: "" })
            return new Guards();
        var reader = new MappingReader(node, diagnostics, "a set of guards");
        var guards = new Guards
        {
            ForeignSender = Scalars.Word(reader.Optional("foreign sender"), diagnostics, "answer to a foreign sender", s_foreign) ?? true,
            BusOff = BindBusOff(reader.Optional("bus off"), diagnostics),
            Enable = BindEnable(reader.Optional("enable"), diagnostics),
            RunAtMostUs = Scalars.TimeUs(reader.Optional("run at most"), diagnostics, "the time to run", 1, ModeBinder.LongestStayUs),
            Resume = Scalars.Word(reader.Optional("reset"), diagnostics, "way to start after a reset", s_resume) ?? false,
            BrownOuts = BindBrownOuts(reader.Optional("brown-outs"), diagnostics),
        };
        reader.Done();
        return guards;
    }

    private static BrownOutGuard? BindBrownOuts(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        if (node is null)
            return BrownOutGuard.Usual;
        if (node is ScalarNode)
            return Scalars.Word(node, diagnostics, "answer to brown-outs", s_brownOuts) is null ? BrownOutGuard.Usual : null;
        var reader = new MappingReader(node, diagnostics, "the guard against brown-outs");
        var most = Scalars.Integer(reader.Optional("most"), diagnostics, "the number of brown-outs", 0, MostBrownOuts) ?? BrownOutGuard.Usual.Most;
        var steady = Scalars.TimeUs(reader.Optional("steady"), diagnostics, "the steady time", 1_000, InputBinder.LongestDelayUs) ?? BrownOutGuard.Usual.SteadyUs;
        reader.Done();
        return new BrownOutGuard((int)most, steady);
    }

    private static BusOffGuard? BindBusOff(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        if (node is null)
            return null;
        var reader = new MappingReader(node, diagnostics, "the guard against bus-off");
        var recoveries = Scalars.Integer(reader.Optional("recoveries"), diagnostics, "the number of recoveries", 0, MostRecoveries) ?? 5;
        var within = Scalars.TimeUs(reader.Optional("within"), diagnostics, "the time of counting", 1_000, InputBinder.LongestDelayUs) ?? 60_000_000;
        var wait = Scalars.TimeUs(reader.Optional("wait"), diagnostics, "the pause", 1_000, InputBinder.LongestDelayUs) ?? 1_000_000;
        reader.Done();
        return new BusOffGuard((int)recoveries, within, wait);
    }

    private static EnableGuard? BindEnable(SyntaxNode? node, DiagnosticBag diagnostics)
    {
        if (node is null)
            return null;
        var reader = new MappingReader(node, diagnostics, "the enable guard");
        var inputNode = reader.Required("input", "name the input: 'input: bench-switch'");
        var input = inputNode is ScalarNode scalar ? Scalars.Name(scalar, diagnostics, "an input") : Scalars.Text(inputNode, diagnostics, "the input");
        bool? active = Scalars.Word(reader.Optional("active"), diagnostics, "level", WordTables.Levels);
        var debounce = Scalars.TimeUs(reader.Optional("debounce"), diagnostics, "the debounce", 0, InputBinder.LongestDelayUs);
        reader.Done();
        return input is null ? null : new EnableGuard(input, active, debounce, inputNode!.Span);
    }
}
