using Locum.Diagnostics;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Diagnostics;

public class DiagnosticBagTests
{
    [Fact]
    public void Findings_are_sorted_by_place_and_repeated_ones_join()
    {
        var bag = new DiagnosticBag();
        bag.Add(Codes.UnknownKey, new Span("b", 1, 1, 1, 2), "fifth");
        bag.Add(Codes.UnknownKey, new Span("a", 2, 1, 2, 2), "fourth");
        bag.Add(Codes.UnknownKey, new Span("a", 1, 9, 1, 10), "third");
        bag.Add(Codes.UnknownKey, new Span("a", 1, 2, 1, 3), "second");
        bag.Add(Codes.WrongVersion, new Span("a", 1, 2, 1, 3), "first");
        bag.Add(Codes.WrongVersion, new Span("a", 1, 2, 1, 3), "first");

        Assert.Equal(["first", "second", "third", "fourth", "fifth"], bag.Sorted.Select(d => d.Message));
    }

    [Fact]
    public void Only_errors_count_as_errors()
    {
        var bag = new DiagnosticBag();
        bag.Add(Codes.UnusedBus, Span.Start("a"), "warning");
        bag.Add(Codes.OffsetBeyondPeriod, Span.Start("a"), "note");
        Assert.False(bag.HasErrors);

        bag.Add(Codes.Empty, Span.Start("a"), "error");
        Assert.True(bag.HasErrors);
    }
}
