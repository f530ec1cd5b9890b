using Locum.Model;

namespace Locum.Reviewing;

/// <summary>A node of SAE J1939 as an item.</summary>
internal static class NodeFacts
{
    public static Item Of(Node node, Scope scope) => new()
    {
        Kind = "node",
        Name = scope.Named("node", "", node.Name),
        WasNamed = scope.WasNamed("node", "", node.Name),
        Identity = $"{node.Address} {node.NameValue}",
        Hint = $"0x{node.Address:X2}",
        Facts =
        [
            new("frames", scope.Frame(node.Frame)),
            new("address", $"0x{node.Address:X2}"),
            new("NAME", $"0x{node.NameValue:X16}"),
            new("requests", scope.Received(node.Request)),
            new("requests to everybody", scope.Received(node.RequestToAll)),
            new("claims by others", scope.Received(node.Claim)),
            new("receivers of long answers", node.Connection is { } connection ? scope.Received(connection) : "none"),
            new("spacing", Say.Time(node.SpacingUs)),
            .. node.Answers.Select(a => new Fact($"group 0x{a.Group:X4}", a.Frame is { } frame ? $"frame {scope.Frame(frame)}" : Say.Bytes(a.Bytes))),
        ],
    };
}
