using Locum.Model;

namespace Locum.Auditing;

/// <summary>Something in one payload that the description does not allow.</summary>
/// <param name="Field">The field, or null for bits that belong to none.</param>
/// <param name="Got">The field's bits.</param>
/// <param name="Expected">What the description allows, for people.</param>
internal readonly record struct Fault(FaultKind Kind, Field? Field, ulong Got, string Expected);

internal enum FaultKind
{
    /// <summary>Another number of bytes, or CAN FD instead of classic.</summary>
    Shape,

    /// <summary>Bits that are always the same.</summary>
    Fixed,

    /// <summary>A value that no mode gives the field.</summary>
    Mode,

    /// <summary>A value outside what noise or a ramp reaches.</summary>
    Moving,

    /// <summary>Not what the received frames say.</summary>
    Follow,

    Formula,

    Checksum,

    /// <summary>A value that the counter never takes.</summary>
    Counter,
}
