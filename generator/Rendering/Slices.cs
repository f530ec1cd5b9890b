using Locum.Model;

namespace Locum.Rendering;

/// <summary>A run of a field's bits inside one payload byte.</summary>
/// <param name="Byte">Payload byte.</param>
/// <param name="Right">Bits of the value below the run.</param>
/// <param name="Left">Bits of the byte below the run.</param>
/// <param name="Mask">The run's width as a mask, in C.</param>
/// <param name="Whole">The run fills the byte.</param>
/// <param name="Top">No bits of the value lie above the run, so no mask is needed.</param>
public sealed record Slice(int Byte, int Right, int Left, string Mask, bool Whole, bool Top);

/// <summary>Cuts fields into runs that the generated code can write with one shift each.</summary>
public static class Slices
{
    /// <param name="typeBits">Width of the C type that holds the value.</param>
    public static IReadOnlyList<Slice> Of(Field field, int typeBits)
    {
        var slices = new List<Slice>();
        var positions = field.Positions().ToArray();
        for (var first = 0; first < positions.Length;)
        {
            var count = 1;
            while (first + count < positions.Length && positions[first + count] == positions[first] + count && positions[first + count] % 8 != 0)
                count++;
            slices.Add(new Slice(positions[first] / 8, first, positions[first] % 8, $"0x{(1u << count) - 1:X2}u", count is 8, first + count == typeBits));
            first += count;
        }
        return slices;
    }
}
