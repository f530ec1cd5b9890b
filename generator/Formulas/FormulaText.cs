using Locum.Text;

namespace Locum.Formulas;

/// <summary>A formula's text and where it stands in its file.</summary>
/// <param name="Text">The value of the YAML scalar.</param>
/// <param name="Span">Place of the scalar, quotation marks included.</param>
public sealed record FormulaText(string Text, Span Span)
{
    /// <summary>Where a part of the text stands; the whole scalar when it has escapes or several lines.</summary>
    public Span At(Place place)
    {
        var extra = Span.EndColumn - Span.Column - Text.Length;
        if (Span.Line != Span.EndLine || extra is not (0 or 2))
            return Span;
        // Two more characters than the value has are its quotation marks.
        var column = Span.Column + (extra / 2) + place.Start;
        return Span with { Column = column, EndColumn = column + Math.Max(place.Length, 1) };
    }

    /// <summary>The characters of a part.</summary>
    public string Of(Place place) => Text.Substring(Math.Min(place.Start, Text.Length), Math.Min(place.Length, Math.Max(0, Text.Length - place.Start)));
}
