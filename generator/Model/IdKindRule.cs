namespace Locum.Model;

/// <summary>How 29-bit identifiers are told from 11-bit ones where no column says it.</summary>
public enum IdKindRule
{
    /// <summary>Above 0x7FF.</summary>
    ByValue,

    /// <summary>Written with more than four digits.</summary>
    ByDigits,

    /// <summary>All have 11 bits.</summary>
    Standard,

    /// <summary>All have 29 bits.</summary>
    Extended,
}
