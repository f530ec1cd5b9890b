using Locum.Capture;
using Locum.Model;
using Locum.Planning;
using Locum.Wire;

namespace Locum.Auditing;

/// <summary>Which identifiers of a capture are a board's.</summary>
internal static class OwnIdentifiers
{
    private const int PriorityAt = 26;
    private const uint AnswerPriority = 6;
    private const uint TransferPriority = 7;
    private const byte RequestToSend = 0x10;
    private const byte Announcement = 0x20;
    private const byte Abort = 0xFF;

    /// <param name="buses">The capture's bus for each bus of the plan; null where it has none.</param>
    public static HashSet<(int Bus, CanId Id)> Of(BoardPlan plan, Recording recording, IReadOnlyList<int?> buses)
    {
        var own = plan.Frames.Where(f => buses[f.Bus] is not null).Select(f => (buses[f.Bus]!.Value, f.Frame.Id)).ToHashSet();
        foreach (var row in plan.Frames.Where(f => f.Frame.IsNode && buses[f.Bus] is not null))
            own.UnionWith(recording.Series.Where(s => s.Bus == buses[row.Bus] && IsOf(Node(row), s.Id)).Select(s => (s.Bus, s.Id)));
        return own;
    }

    /// <summary>The node whose frames a row sends.</summary>
    public static Node Node(PlannedFrame row) => row.Owner.Module.Nodes.First(n => n.Frame == row.IndexInModule);

    /// <summary>Identifiers under which a node sends (rules J1, J5, J7 and J8).</summary>
    public static bool IsOf(Node node, CanId id)
    {
        if (!id.Extended || (byte)id.Value != node.Address)
            return false;
        var group = ParameterGroup.Of(id);
        return group switch
        {
            ParameterGroup.AddressClaimed or ParameterGroup.Acknowledgement => id == ParameterGroup.To(group, Model.Node.Everybody, node.Address),
            ParameterGroup.Connection or ParameterGroup.Packets => id.Value >> PriorityAt is TransferPriority && node.Answers.Any(a => a.IsLong),
            _ => id.Value >> PriorityAt is AnswerPriority && node.Answers.Any(a => a is { IsLong: false, Frame: null } && a.Group == group),
        };
    }

    /// <summary>False for frames under such identifiers that the node itself never sends: it takes part in transfers as their sender alone.</summary>
    public static bool Sends(CanId id, ReadOnlySpan<byte> data) =>
        ParameterGroup.Of(id) is not ParameterGroup.Connection || (data.Length is Model.Node.LongestShort && data[0] is RequestToSend or Announcement or Abort);

    /// <summary>A claim of a node, by its NAME and the priority with which it claims.</summary>
    public static bool IsClaim(CanId id, ReadOnlySpan<byte> data, PlannedFrame row, ReadOnlySpan<byte> name) => (id == row.Frame.Id || id == Lost) && data.SequenceEqual(name);

    /// <summary>What those say who claim no address: theirs when the NAME is.</summary>
    public static CanId Lost { get; } = ParameterGroup.To(ParameterGroup.AddressClaimed, Model.Node.Everybody, Model.Node.Nobody);
}
