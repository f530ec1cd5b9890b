using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Wire;

namespace Locum.Binding;

/// <summary>Parameter groups that a node answers with, by number.</summary>
internal static class GroupAnswerBinder
{
    public const int Most = 32;

    /// <summary>All answers of a node together.</summary>
    public const int MostTogether = 4_096;

    private static readonly int[] s_reserved = [ParameterGroup.Acknowledgement, ParameterGroup.Request, ParameterGroup.Packets, ParameterGroup.Connection, ParameterGroup.AddressClaimed];

    /// <param name="bus">The node's bus; below 0 when it is unknown.</param>
    public static IReadOnlyList<GroupAnswer> Bind(MappingReader node, int bus, byte address, List<Frame> frames, Bound bound)
    {
        var diagnostics = bound.Diagnostics;
        var entries = node.Named("answers", "parameter groups");
        if (entries.Count > Most)
            diagnostics.Add(Codes.TooMany, entries[Most].Key.Span, $"a node answers with at most {Most} parameter groups", "leave groups out");
        var answers = new List<GroupAnswer>();
        foreach (var entry in entries.Take(Most))
        {
            var group = Group(entry, diagnostics);
            var reader = new MappingReader(entry.Value, diagnostics, "an answer");
            if (entry.Value is not MappingNode || BindOne(reader, group, bus, address, frames, bound) is not { } answer || group is null)
                continue;
            if (answers.Any(a => a.Group == group))
                diagnostics.Add(Codes.GroupTwice, entry.Key.Span, $"the parameter group 0x{group:X4} is described already", "keep one of them");
            else
                answers.Add(answer);
        }
        if (answers.Sum(a => a.Bytes.Length) > MostTogether)
            diagnostics.Add(Codes.TooMany, node.SpanOf("answers"), $"the answers of a node have at most {MostTogether} bytes together", "shorten texts, or leave groups out");
        return answers;
    }

    private static int? Group(MappingEntry entry, DiagnosticBag diagnostics)
    {
        if (Scalars.Integer(entry.Key, diagnostics, "a parameter group", 0, ParameterGroup.Most) is not { } number)
            return null;
        var group = (int)number;
        if (ParameterGroup.HasDestination(group) && (group & 0xFF) is not 0)
            diagnostics.Add(Codes.BadGroup, entry.Key.Span, $"0x{group:X4} is below 0x{group & 0x30000 | 0xF000:X4} and goes to a destination, which takes the place of its last byte", $"write 0x{group & ~0xFF:X4}");
        else if (s_reserved.Contains(group))
            diagnostics.Add(Codes.BadGroup, entry.Key.Span, $"0x{group:X4} is part of the protocol, which the node keeps by itself", "leave it out");
        else
            return group;
        return null;
    }

    private static GroupAnswer? BindOne(MappingReader reader, int? group, int bus, byte address, List<Frame> frames, Bound bound)
    {
        var diagnostics = bound.Diagnostics;
        var (text, frame) = (reader.Optional("text"), reader.Optional("frame"));
        if (frame is not null)
        {
            var index = Scalars.Text(frame, diagnostics, "the frame") is { } name ? bound.Find(bound.FrameNames, name, frame.Span, Codes.UnknownFrame, "frame") : -1;
            reader.Done();
            var place = index < 0 ? -1 : frames.FindIndex(f => f.Name == bound.FrameNames[index] && f is { IsAnswer: false, IsNode: false });
            if (place < 0 || group is null)
                return null;
            Adopt(frames, place);
            var asked = frames[place];
            if (asked.Bus >= 0 && bus >= 0 && asked.Id.IsValid && address <= Node.LastAddress && !(asked.Bus == bus && asked.Id.Extended && (byte)asked.Id.Value == address && ParameterGroup.Of(asked.Id) == group))
                diagnostics.Add(Codes.AnswerFrame, frame.Span, $"'{asked.Name}' ({asked.Id}) is not group 0x{group:X4} from address 0x{address:X2} on the node's bus", "correct the group, or name another frame", asked.IdSpan);
            return new GroupAnswer(group.Value, [], place);
        }
        var bytes = text is null ? Scalars.Bytes(reader.Required("bytes", "give a 'text', 'bytes' or a 'frame'"), diagnostics, "the bytes") : IdentifierBinder.Ascii(text, diagnostics);
        reader.Done();
        if (bytes is { Length: 0 or > Node.LongestAnswer })
        {
            diagnostics.Add(Codes.OutOfRange, reader.ValueSpan(text is null ? "bytes" : "text"), $"an answer has 1 to {Node.LongestAnswer} bytes, this one {bytes.Length}", "shorten or fill it");
            return null;
        }
        return bytes is null || group is null ? null : new GroupAnswer(group.Value, bytes, null);
    }

    // A frame that is asked for is sent by events as well.
    private static void Adopt(List<Frame> frames, int place)
    {
        if (frames[place].Events is null)
            frames[place] = frames[place] with { Events = new Events([], 1, SendingBinder.UsualSpacingUs, 0, []) };
    }
}
