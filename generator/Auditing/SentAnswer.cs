using Locum.Wire;

namespace Locum.Auditing;

/// <summary>A frame with which a module answered.</summary>
/// <param name="Order">Its number among all entries of the recording.</param>
internal sealed record SentAnswer(int Order, long StartUs, long EndUs, CanId Id, byte[] Data)
{
    public bool Is(CanId id, byte[] data) => Id == id && Data.AsSpan().SequenceEqual(data);

    /// <summary>The bytes, behind the identifier when it is not another one's.</summary>
    public string ToString(CanId other) => Id == other ? ToString() : $"{Id} {this}";

    public override string ToString() => string.Join(' ', Data.Select(b => b.ToString("X2", System.Globalization.CultureInfo.InvariantCulture)));
}
