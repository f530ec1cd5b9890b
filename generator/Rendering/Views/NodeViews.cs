using Locum.Binding;
using Locum.Model;
using Locum.Planning;

namespace Locum.Rendering.Views;

/// <summary>A row of the board's table of nodes.</summary>
/// <param name="C">Prefix of the node's C names.</param>
/// <param name="Name">Bytes of the NAME as sent.</param>
/// <param name="Event">Row of the node's frames in the table of frames that events send.</param>
/// <param name="Request">Row among the received frames, as a C constant; so are the next three.</param>
public sealed record NodeView(
    string Comment,
    string C,
    IReadOnlyList<GroupAnswerView> Answers,
    long SpacingUs,
    IReadOnlyList<string> Name,
    string Address,
    string Module,
    int Bus,
    int Row,
    int Event,
    string Request,
    string RequestToAll,
    string Claim,
    string Connection);

/// <summary>What is sent when a parameter group is asked for.</summary>
/// <param name="C">Name of the array of its bytes.</param>
/// <param name="Bytes">Empty when a frame is the answer.</param>
/// <param name="Event">Row of that frame in the table of frames that events send; 0 for bytes.</param>
public sealed record GroupAnswerView(string Comment, string C, string Group, IReadOnlyList<string> Bytes, int Event);

internal static class NodeViews
{
    public static IReadOnlyList<NodeView> Of(BoardPlan plan)
    {
        var events = plan.Frames.Where(f => f.Frame.Events is not null).ToList();
        return [.. plan.Modules.SelectMany(m => m.Module.Nodes.Select(n => One(n, m, plan, events)))];
    }

    /// <summary>Parameter groups of the node with the most of them; at least 1, since C has no empty arrays.</summary>
    public static int MostAnswers(BoardPlan plan) => plan.Modules.SelectMany(m => m.Module.Nodes).Select(n => n.Answers.Count).Append(1).Max();

    private static NodeView One(Node node, PlannedModule owner, BoardPlan plan, List<PlannedFrame> events)
    {
        var module = owner.Module;
        var row = FrameOf(node.Frame);
        var c = $"{Names.ToC(module.Name)}_{Names.ToC(node.Name)}";
        return new NodeView(
            CText.Comment($"{module.Name}, {node.Name}: address 0x{node.Address:X2}, NAME 0x{node.NameValue:X16}"),
            c,
            [.. node.Answers.Select(a => Answer(a, $"{c}_{a.Group:x5}", a.Frame is { } frame ? FrameOf(frame) : null, events))],
            node.SpacingUs,
            [.. node.NameBytes().Select(b => $"0x{b:X2}u")],
            $"0x{node.Address:X2}u",
            $"MODULE_{Names.ToC(module.Name).ToUpperInvariant()}",
            row.Bus,
            row.Row,
            events.IndexOf(row),
            ReceiveViews.Macro(module, node.Request),
            ReceiveViews.Macro(module, node.RequestToAll),
            ReceiveViews.Macro(module, node.Claim),
            node.Connection is { } connection ? ReceiveViews.Macro(module, connection) : "LOCUM_NONE");

        PlannedFrame FrameOf(int index) => plan.Frames.Single(f => f.Owner == owner && f.IndexInModule == index);
    }

    private static GroupAnswerView Answer(GroupAnswer answer, string c, PlannedFrame? frame, List<PlannedFrame> events) => new(
        CText.Comment(frame is null ? answer.IsLong ? "in packets" : "one frame" : frame.Frame.Name),
        c,
        $"0x{answer.Group:X5}u",
        [.. answer.Bytes.Select(b => $"0x{b:X2}u")],
        frame is null ? 0 : events.IndexOf(frame));
}
