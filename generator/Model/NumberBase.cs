namespace Locum.Model;

/// <summary>How numbers are written; a prefix 0x always means hexadecimal.</summary>
public enum NumberBase
{
    Hex,
    Decimal,
}
