using Locum.Model;
using Locum.Planning;

namespace Locum.Rendering.Views;

/// <summary>Conditions as C expressions.</summary>
internal static class ConditionText
{
    public static string Of(Condition condition, PlannedModule planned, IReadOnlyList<InputView> inputs) => condition switch
    {
        InputCondition input => (input.Active ? "" : "!") + inputs[planned.Inputs[input.Input]].C,
        ReceivedCondition received => $"{(received.There ? "" : "!")}{ReceiveViews.There(planned.Module, received.Received)}",
        FieldCondition field => $"{ReceiveViews.There(planned.Module, field.Received)} && {ReceiveViews.Reader(planned.Module, field.Received, field.Field)}() {Sign(field.Comparison)} {Number(field.Raw)}",
        _ => throw new ArgumentOutOfRangeException(nameof(condition)),
    };

    internal static string Number(long value) => value switch
    {
        // The least value of a C type has no literal of its own.
        int.MinValue => "(-2147483647 - 1)",
        long.MinValue => "(-INT64_C(9223372036854775807) - 1)",
        >= short.MinValue and <= short.MaxValue => $"{value}",
        >= int.MinValue and <= int.MaxValue => $"INT32_C({value})",
        _ => $"INT64_C({value})",
    };

    private static string Sign(Comparison comparison) => comparison switch
    {
        Comparison.Equal => "==",
        Comparison.NotEqual => "!=",
        Comparison.AtLeast => ">=",
        _ => "<",
    };
}
