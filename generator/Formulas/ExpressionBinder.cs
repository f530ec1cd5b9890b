using Locum.Diagnostics;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Locum.Formulas;

/// <summary>Expression syntax → formula. Whatever is not listed here is a finding.</summary>
internal sealed class ExpressionBinder(FormulaText source, Scanned scanned, IFormulaScope scope, DiagnosticBag diagnostics)
{
    private static readonly Dictionary<SyntaxKind, UnaryOperator> s_unary = new()
    {
        [SyntaxKind.UnaryPlusExpression] = UnaryOperator.Plus,
        [SyntaxKind.UnaryMinusExpression] = UnaryOperator.Minus,
        [SyntaxKind.BitwiseNotExpression] = UnaryOperator.Complement,
        [SyntaxKind.LogicalNotExpression] = UnaryOperator.Not,
    };

    private static readonly Dictionary<SyntaxKind, BinaryOperator> s_binary = new()
    {
        [SyntaxKind.AddExpression] = BinaryOperator.Add,
        [SyntaxKind.SubtractExpression] = BinaryOperator.Subtract,
        [SyntaxKind.MultiplyExpression] = BinaryOperator.Multiply,
        [SyntaxKind.DivideExpression] = BinaryOperator.Divide,
        [SyntaxKind.ModuloExpression] = BinaryOperator.Remainder,
        [SyntaxKind.LeftShiftExpression] = BinaryOperator.ShiftLeft,
        [SyntaxKind.RightShiftExpression] = BinaryOperator.ShiftRight,
        [SyntaxKind.BitwiseAndExpression] = BinaryOperator.And,
        [SyntaxKind.BitwiseOrExpression] = BinaryOperator.Or,
        [SyntaxKind.ExclusiveOrExpression] = BinaryOperator.Xor,
        [SyntaxKind.EqualsExpression] = BinaryOperator.Equal,
        [SyntaxKind.NotEqualsExpression] = BinaryOperator.NotEqual,
        [SyntaxKind.LessThanExpression] = BinaryOperator.Less,
        [SyntaxKind.LessThanOrEqualExpression] = BinaryOperator.LessOrEqual,
        [SyntaxKind.GreaterThanExpression] = BinaryOperator.Greater,
        [SyntaxKind.GreaterThanOrEqualExpression] = BinaryOperator.GreaterOrEqual,
        [SyntaxKind.LogicalAndExpression] = BinaryOperator.AndAlso,
        [SyntaxKind.LogicalOrExpression] = BinaryOperator.OrElse,
    };

    private readonly NameBinder _names = new(source, scope, diagnostics);
    private int _nodes;
    private bool _tooLarge;

    public FormulaNode? Bind(ExpressionSyntax expression) => Bind(expression, 0);

    /// <param name="depth">Levels above, where a chain of operators is one level.</param>
    private FormulaNode? Bind(ExpressionSyntax expression, int depth)
    {
        if (_tooLarge || ++_nodes > FormulaParser.MostNodes || depth > Scanned.MostDepth)
            return TooLarge(expression);
        var place = At(expression);
        switch (expression)
        {
            case ParenthesizedExpressionSyntax parentheses:
                return Bind(parentheses.Expression, depth + 1);
            case LiteralExpressionSyntax literal:
                return NumberReader.Read(source, place, false, diagnostics);
            case IdentifierNameSyntax or MemberAccessExpressionSyntax:
                return _names.Bind(place);
            case PrefixUnaryExpressionSyntax { Operand: LiteralExpressionSyntax number } minus when minus.IsKind(SyntaxKind.UnaryMinusExpression):
                return NumberReader.Read(source, At(number), true, diagnostics) is { } value ? new ConstantNode(place, Arithmetic.Negate(value.Value)) : null;
            case PrefixUnaryExpressionSyntax unary when s_unary.TryGetValue(unary.Kind(), out var operation):
                return Bind(unary.Operand, depth + 1) is { } part ? NodeFactory.Unary(place, operation, part) : null;
            case BinaryExpressionSyntax binary when s_binary.TryGetValue(binary.Kind(), out var operation):
                return BindBinary(binary, operation, depth);
            case ConditionalExpressionSyntax choice:
                var (condition, then, otherwise) = (Bind(choice.Condition, depth + 1), Bind(choice.WhenTrue, depth + 1), Bind(choice.WhenFalse, depth + 1));
                return condition is null || then is null || otherwise is null ? null : NodeFactory.Choice(place, condition, then, otherwise);
            case InvocationExpressionSyntax { Expression: IdentifierNameSyntax name } call:
                return BindCall(call, At(name), depth);
            default:
                return NotAllowed(expression);
        }
    }

    private FormulaNode? BindBinary(BinaryExpressionSyntax binary, BinaryOperator operation, int depth)
    {
        if (operation is BinaryOperator.Equal or BinaryOperator.NotEqual && _names.BindMode(At(binary), At(binary.Left), At(binary.Right), operation is BinaryOperator.Equal, out var mode))
            return mode;
        var (left, right) = (Bind(binary.Left, depth), Bind(binary.Right, depth + 1));
        return left is null || right is null ? null : NodeFactory.Binary(At(binary), At(binary.OperatorToken.Span), operation, left, right);
    }

    private FormulaNode? BindCall(InvocationExpressionSyntax call, Place name, int depth)
    {
        var arguments = call.ArgumentList.Arguments;
        if (arguments.FirstOrDefault(a => a.NameColon is not null) is { } named)
            return NotAllowed(named);
        // "min(a < b, c > (d))": the comparisons read as one argument.
        if (arguments.FirstOrDefault(a => a.Expression is InvocationExpressionSyntax { Expression: GenericNameSyntax }) is { } brackets)
            return NotAllowed(brackets.Expression);
        return new CallBinder(source, scope, diagnostics)
            .Bind(At(call), name, [.. arguments.Select(a => At(a))], i => Bind(arguments[i].Expression, depth + 1));
    }

    private FormulaNode? TooLarge(ExpressionSyntax expression)
    {
        if (!_tooLarge)
            diagnostics.Add(Codes.FormulaSize, source.At(At(expression)), $"the formula is made of more than {FormulaParser.MostNodes} parts or nested more than {Scanned.MostDepth} levels deep", "split it into several fields");
        _tooLarge = true;
        return null;
    }

    private FormulaNode? NotAllowed(SyntaxNode node)
    {
        var (at, message, mend) = Refusals.Of(node);
        diagnostics.Add(Codes.FormulaOperator, source.At(At(at)), message, mend);
        return null;
    }

    private Place At(SyntaxNode node) => At(node.Span);

    private Place At(Microsoft.CodeAnalysis.Text.TextSpan span) => scanned.Back(span.Start, span.Length);
}
