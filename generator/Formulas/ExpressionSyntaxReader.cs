using Locum.Diagnostics;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Locum.Formulas;

/// <summary>Reads a text with the expression grammar of C#, whose operators have the precedence they have in C, and reports where the text breaks it.</summary>
internal static class ExpressionSyntaxReader
{
    public static FormulaNode? Read(FormulaText source, Scanned scanned, IFormulaScope scope, DiagnosticBag diagnostics)
    {
        var expression = SyntaxFactory.ParseExpression(scanned.Text, consumeFullText: false);
        if (Broken(expression, scanned) is not var (place, missing))
            return new ExpressionBinder(source, scanned, scope, diagnostics).Bind(expression);
        if (string.IsNullOrWhiteSpace(source.Text))
            diagnostics.Add(Codes.FormulaSyntax, source.Span, "the formula is empty", "write an expression such as 'speed * 2'");
        else if (place.Start >= source.Text.TrimEnd().Length)
            diagnostics.Add(Codes.FormulaSyntax, source.At(place), $"the formula ends where {missing} should follow", "complete it, or remove what is left over");
        else
            diagnostics.Add(Codes.FormulaSyntax, source.At(place), $"'{Printable.Short(source.Of(place))}' stands where {missing} should", "check operators, commas and parentheses");
        return null;
    }

    // The first place at which a token is missing or too many.
    private static (Place Place, string Missing)? Broken(ExpressionSyntax expression, Scanned scanned)
    {
        var end = expression.FullSpan.End;
        var rest = end + scanned.Text.AsSpan(end).IndexOfAnyExcept(" \t\r\n");
        var (at, missing) = rest >= end ? (rest, "an operator or the end") : (-1, "");
        foreach (var token in expression.DescendantTokens(descendIntoTrivia: false))
        {
            if (token.IsMissing && (at < 0 || token.SpanStart < at || end <= at))
                return (Word(scanned, token.SpanStart), Describe(token));
            foreach (var trivia in token.GetAllTrivia())
                if (trivia.IsKind(SyntaxKind.SkippedTokensTrivia) && (at < 0 || trivia.SpanStart < at))
                    return (Word(scanned, trivia.SpanStart), "an operator, a comma or ')'");
        }
        return at < 0 ? null : (Word(scanned, at), missing);
    }

    private static string Describe(SyntaxToken missing) => missing.Kind() switch
    {
        SyntaxKind.IdentifierToken => "a value",
        SyntaxKind.CloseParenToken => "')'",
        SyntaxKind.ColonToken => "':' of a '?'",
        var kind => $"'{SyntaxFacts.GetText(kind)}'",
    };

    // The word or sign behind the blanks at a place.
    private static Place Word(Scanned scanned, int start)
    {
        var text = scanned.Text;
        while (start < text.Length && char.IsWhiteSpace(text[start]))
            start++;
        var end = start;
        while (end < text.Length && (char.IsLetterOrDigit(text[end]) || text[end] is '_' or '@'))
            end++;
        return scanned.Back(start, Math.Max(end - start, start < text.Length ? 1 : 0));
    }

    private static IEnumerable<SyntaxTrivia> GetAllTrivia(this SyntaxToken token) => token.LeadingTrivia.Concat(token.TrailingTrivia);
}
