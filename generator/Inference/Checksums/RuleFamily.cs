namespace Locum.Inference.Checksums;

/// <summary>Groups of hypotheses; the allowed chance of a false hit is shared equally among them.</summary>
internal enum RuleFamily
{
    /// <summary>Published or customary rules without any free constant, over all bytes or those on one side.</summary>
    Named,

    /// <summary>End-to-end profiles in their own layout, with unknown data IDs.</summary>
    Profile,

    /// <summary>Sums and XORs of 4 bits with an unknown constant.</summary>
    Plain4,

    /// <summary>Sums and XORs of 8 bits with an unknown constant.</summary>
    Plain8,

    /// <summary>Sums of 16 bits with an unknown constant.</summary>
    Plain16,

    /// <summary>CRC-8 of any polynomial with an unknown constant.</summary>
    Crc8,

    /// <summary>CRC-16 of any polynomial with an unknown constant.</summary>
    Crc16,

    /// <summary>CRC-8 of any polynomial with constants chosen by a counter.</summary>
    Secret,

    /// <summary>CRC-32 and CRC-64 of the catalogue's polynomials with an unknown constant.</summary>
    Wide,
}
