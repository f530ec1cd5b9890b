using Locum.Binding;

namespace Locum.Schema;

/// <summary>Whether a single value reads as a shape asks; ranges are not looked at.</summary>
internal static class Fit
{
    public static bool Fits(Shape shape, string text) => shape switch
    {
        Words words => words.List.Contains(text),
        Whole => Quantity.Integer(text) is not null,
        Numeric => Quantity.Number(text) is not null,
        Amount amount => Split(text, amount) is not null,
        ByteRow => text.Split(' ', StringSplitOptions.RemoveEmptyEntries).All(p => p.Length is 2 && p.All(char.IsAsciiHexDigit)),
        _ => true,
    };

    /// <summary>Number and unit of a quantity; null when it is none of these units.</summary>
    public static (string Number, string Unit)? Split(string text, Amount amount)
    {
        var start = amount.Signed && text.StartsWith('-') ? 1 : 0;
        var end = start + text.AsSpan(start).IndexOfAnyExcept("0123456789.".AsSpan());
        if (end <= start)
            return null;
        var unit = text[end..].Trim();
        return amount.Units.Contains(unit) ? (text[..end], unit) : null;
    }
}
