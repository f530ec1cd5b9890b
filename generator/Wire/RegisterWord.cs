namespace Locum.Wire;

/// <summary>A register and what is written to it.</summary>
/// <param name="Name">As the controller's manual calls it.</param>
/// <param name="Value">Only the bits of bit timing and delay compensation; all others are 0.</param>
/// <param name="Bits">Width of the register.</param>
public readonly record struct RegisterWord(string Name, uint Value, int Bits)
{
    public override string ToString() => $"{Name} 0x{Value.ToString($"X{Bits / 4}")}";
}
