using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;
using Microsoft.CodeAnalysis.Text;

namespace Locum.Formulas;

/// <summary>Why a kind of expression is no part of a formula, and what to write instead.</summary>
internal static class Refusals
{
    private const string Operators = "use + - * / % << >> & | ^ ~ && || ! == != < <= > >= and ?:";

    public static (TextSpan At, string Message, string Mend) Of(SyntaxNode node) => node switch
    {
        AssignmentExpressionSyntax { OperatorToken: var sign } when sign.IsKind(SyntaxKind.EqualsToken) =>
            (sign.Span, "'=' assigns, and a formula changes nothing", "compare with '=='"),
        AssignmentExpressionSyntax { OperatorToken: var sign } => (sign.Span, $"'{sign.Text}' assigns, and a formula changes nothing", "leave out the '='"),
        CastExpressionSyntax cast => (cast.CloseParenToken.Span, "an operator between two values is missing behind ')'", "write the operator, such as '*'"),
        PostfixUnaryExpressionSyntax post => (post.OperatorToken.Span, $"'{post.OperatorToken.Text}' would change a value, and a formula changes nothing", "write '+ 1' or '- 1'"),
        PrefixUnaryExpressionSyntax pre => (pre.OperatorToken.Span, $"'{pre.OperatorToken.Text}' is no operator on one value in formulas", pre.OperatorToken.Text is "--" or "++" ? "set the signs apart: '- -x'" : Operators),
        BinaryExpressionSyntax binary => (binary.OperatorToken.Span, $"'{binary.OperatorToken.Text}' is no operator of formulas", Operators),
        InvocationExpressionSyntax { Expression: GenericNameSyntax name } => (name.Span, "'<' and '>' read as a pair of brackets here", "put the comparisons in parentheses"),
        GenericNameSyntax generic => (generic.Span, "'<' and '>' read as a pair of brackets here", "put the comparisons in parentheses"),
        InvocationExpressionSyntax { Expression: var called } => (called.Span, "only a helper's name can stand before '('", "write the operator, such as '*'"),
        ArgumentSyntax argument => (argument.Span, "the arguments of a helper have no names", "write the values in order"),
        TupleExpressionSyntax tuple => (tuple.Span, "a list of values is no value", "write one expression in the parentheses"),
        ConditionalAccessExpressionSyntax access => (access.OperatorToken.Span, "'?' and '.' together are no operator of formulas", "write 'condition ? a : b'"),
        RangeExpressionSyntax range => (range.OperatorToken.Span, "'..' is no operator of formulas", "write sum(first, last) or xor(first, last) for several bytes"),
        _ => (node.Span, "this is no part of a formula", Operators),
    };
}
