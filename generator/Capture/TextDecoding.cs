namespace Locum.Capture;

/// <summary>Finds out how a text is encoded, and makes UTF-8 lines of it.</summary>
internal static class TextDecoding
{
    private const int Look = 4096;

    /// <summary>The same text as UTF-8 with line feeds; null when it is no text.</summary>
    /// <param name="source">At its start, with some of it in the window. Replaced when it had to be converted.</param>
    /// <param name="oddities">Counts what was converted.</param>
    public static bool Prepare(ref ByteSource source, Oddities oddities)
    {
        if (Utf16(source.Window) is { } big)
        {
            oddities.Add(OddityKind.Utf16, 1);
            source = new ByteSource(new Utf16Stream(new SourceStream(source), big), oddities);
            source.Fill(TextCapture.SampleBytes);
        }

        if (source.Window.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]))
        {
            oddities.Add(OddityKind.ByteOrderMark, 1);
            source.Advance(3);
        }

        if (!IsText(source.Window))
            return false;
        if (source.Window.IndexOf((byte)'\n') < 0 && source.Window.IndexOf((byte)'\r') >= 0)
        {
            oddities.Add(OddityKind.CarriageOnly, 1);
            source = new ByteSource(new CarriageStream(new SourceStream(source)), oddities);
            source.Fill(TextCapture.SampleBytes);
        }

        return true;
    }

    // A mark, or zeros in every other byte.
    private static bool? Utf16(ReadOnlySpan<byte> window)
    {
        if (window.Length < 2)
            return null;
        if (window[0] is 0xFF && window[1] is 0xFE)
            return false;
        if (window[0] is 0xFE && window[1] is 0xFF)
            return true;
        int pairs = Math.Min(window.Length, Look) / 2;
        int low = 0;
        int high = 0;
        for (int i = 0; i < pairs; i++)
        {
            high += window[2 * i] is 0 ? 1 : 0;
            low += window[(2 * i) + 1] is 0 ? 1 : 0;
        }

        if (low > 0.8 * pairs && high < 0.1 * pairs)
            return false;
        return high > 0.8 * pairs && low < 0.1 * pairs ? true : null;
    }

    // Zero bytes in a row are what a power cut leaves; other control characters are no text.
    private static bool IsText(ReadOnlySpan<byte> window)
    {
        int start = window.IndexOfAnyExcept((byte)0);
        if (start < 0)
            return false;
        var look = window[start..Math.Min(window.Length, start + Look)];
        int odd = 0;
        foreach (byte b in look)
            odd += b is < 0x20 and not ((byte)'\t' or (byte)'\r' or (byte)'\n' or 0x0C or 0) ? 1 : 0;
        int zeros = look.Count((byte)0);
        return odd * 50 <= look.Length && (zeros * 10 <= look.Length || look.IndexOf((ReadOnlySpan<byte>)[0, 0, 0, 0]) >= 0);
    }
}
