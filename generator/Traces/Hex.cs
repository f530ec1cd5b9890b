namespace Locum.Traces;

/// <summary>How all text traces write bytes.</summary>
internal static class Hex
{
    /// <summary>Two upper-case digits per byte, separated by spaces.</summary>
    public static string Bytes(ReadOnlySpan<byte> data)
    {
        if (data.IsEmpty)
            return "";
        return string.Create((data.Length * 3) - 1, data, static (text, bytes) =>
        {
            text.Fill(' ');
            for (int i = 0; i < bytes.Length; i++)
                bytes[i].TryFormat(text[(i * 3)..], out _, "X2");
        });
    }
}
