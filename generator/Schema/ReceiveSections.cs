using Locum.Binding;

namespace Locum.Schema;

/// <summary>The keys of received frames: one line each, in the order in which they are written.</summary>
internal static class ReceiveSections
{
    /// <summary>A frame that the module listens to.</summary>
    public static Section Frame { get; } = new()
    {
        Name = "received-frame",
        What = "a received frame",
        Description = "A frame of another node that the module listens to.",
        Keys =
        [
            new("bus", Shapes.Text, "The bus it comes from; needed when there are several.", "body"),
            new("id", new Either(new Words("any"), Shapes.Identifier), "Identifier; 'any' for all traffic.", "0x155") { Required = true },
            new("id kind", Shapes.IdentifierKind, "29 bit is the default above 0x7FF.", "11 bit"),
            new("mask", Shapes.Identifier, "Identifier bits that must match; all by default.", "0x7C0"),
            new("timeout", Shapes.Time, "The frame is lost this long after its last reception; never by default.", "200 ms"),
            new("fields", Shapes.Named(new Mapping(FieldSections.Received), FieldBinder.Most), "Fields by name.", "{speed: {bit: 8, bits: 12}}"),
        ],
    };
}
