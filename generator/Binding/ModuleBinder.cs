using System.Security.Cryptography;
using System.Text;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Binding;

/// <summary>Syntax → module. Fills in defaults, converts units, resolves names.</summary>
public static class ModuleBinder
{
    public const int Version = 1;

    internal const long LongestStartUs = 3_600_000_000;

    private static readonly Dictionary<string, Hazard> s_hazards = new(StringComparer.Ordinal)
    {
        ["none"] = Hazard.None,
        ["restraint"] = Hazard.Restraint,
        ["braking"] = Hazard.Braking,
        ["steering"] = Hazard.Steering,
        ["traction"] = Hazard.Traction,
        ["high-voltage"] = Hazard.HighVoltage,
    };

    /// <summary>The module, or null when too little of it is usable. Findings go to the bag.</summary>
    public static Module? Bind(SourceText source, SyntaxNode root, DiagnosticBag diagnostics)
    {
        var reader = new MappingReader(root, diagnostics, "a description");
        if (root is not MappingNode)
            return null;
        CheckVersion(reader, "locum", diagnostics);
        var nameNode = reader.Required("module", "name the module: 'module: seat-climate'");
        var name = nameNode is ScalarNode scalar ? Scalars.Name(scalar, diagnostics, "a module") : Scalars.Text(nameNode, diagnostics, "the module's name");
        var summary = Scalars.Text(reader.Optional("summary"), diagnostics, "the summary") ?? "";
        var hazard = Scalars.Word(reader.Required("hazard", "say 'hazard: none', or the class of harm: restraint, braking, steering, traction, high-voltage"), diagnostics, "hazard", s_hazards, Codes.UnknownHazard) ?? Hazard.None;
        var acknowledge = Scalars.Text(reader.Optional("acknowledge"), diagnostics, "the acknowledgement");

        var firstNode = reader.Optional("first frame within");
        var first = Scalars.TimeUs(firstNode, diagnostics, "the time to the first frame", 1, LongestStartUs);

        var bound = new Bound(diagnostics);
        BusBinder.Bind(reader, bound);
        InputBinder.Bind(reader, bound);
        ReceiveBinder.Bind(reader, bound);
        var modes = ModeBinder.Bind(reader, bound);
        var outputs = OutputBinder.Bind(reader, bound);
        CounterBinder.BindShared(reader, bound);
        List<Frame> frames = [.. FrameBinder.Bind(reader, bound)];
        var channels = ChannelBinder.Bind(reader, frames, bound);
        var nodes = NodeBinder.Bind(reader, frames, bound);
        var bench = BenchBinder.Bind(reader, bound);
        reader.Done();
        return new Module
        {
            Name = name ?? "unnamed",
            Summary = summary,
            Hazard = hazard,
            // Blanks and signs say nothing about who decided.
            Acknowledge = acknowledge?.Any(char.IsLetterOrDigit) is true ? acknowledge : null,
            FirstFrame = first is { } within ? new FirstFrame(within, firstNode!.Span) : null,
            Path = source.Path,
            Hash = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(source.Text))),
            Buses = bound.Buses,
            Inputs = bound.Inputs,
            Outputs = outputs,
            Receives = bound.Receives,
            Modes = modes,
            Counters = bound.Counters,
            Frames = frames,
            Channels = channels,
            Nodes = nodes,
            Bench = bench,
            Span = reader.SpanOf("module"),
        };
    }

    /// <summary>Reports a missing or unknown language version.</summary>
    internal static void CheckVersion(MappingReader reader, string key, DiagnosticBag diagnostics)
    {
        var node = reader.Required(key, $"start with the line '{key}: {Version}'");
        if (node is not null && (node is not ScalarNode scalar || scalar.Value != Version.ToString()))
            diagnostics.Add(Codes.WrongVersion, node.Span, $"this program reads version {Version} of the language", $"write '{key}: {Version}', or use the program that the description was written for");
    }
}
