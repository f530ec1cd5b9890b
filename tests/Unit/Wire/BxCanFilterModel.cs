using Locum.Wire;

namespace Locum.Tests.Unit.Wire;

/// <summary>
/// What a bxCAN controller's banks let in, from the registers alone (STM32 reference manual RM0008, "Identifier
/// filtering"; layouts from memory).
/// </summary>
internal static class BxCanFilterModel
{
    private const uint AnyBit = 0xFFFF_FFFE; // bit 0 of the 32-bit scale means nothing
    private const uint Half = 0xFFFF;

    public static bool Passes(IEnumerable<BxCanFilterBank> banks, CanId id, bool remote) => banks.Any(b => Passes(b, id, remote));

    private static bool Passes(BxCanFilterBank bank, CanId id, bool remote)
    {
        var baseBits = id.Extended ? id.Value >> 18 : id.Value;
        var extension = id.Extended ? id.Value & 0x3_FFFF : 0;
        if (bank.Wide)
        {
            var frame = (baseBits << 21) | (extension << 3) | (id.Extended ? 4u : 0) | (remote ? 2u : 0);
            return bank.List
                ? Equal(frame, bank.R1, AnyBit) || Equal(frame, bank.R2, AnyBit)
                : Equal(frame, bank.R1, bank.R2 & AnyBit);
        }
        var word = (baseBits << 5) | (remote ? 0x10u : 0) | (id.Extended ? 8u : 0) | (extension >> 15);
        uint[] halves = [bank.R1 & Half, bank.R1 >> 16, bank.R2 & Half, bank.R2 >> 16];
        return bank.List
            ? halves.Contains(word)
            : Equal(word, halves[0], halves[1]) || Equal(word, halves[2], halves[3]);
    }

    private static bool Equal(uint a, uint b, uint mask) => ((a ^ b) & mask) is 0;
}
