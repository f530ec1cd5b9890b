using Locum.Binding;
using Locum.Capture;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Capture;

/// <summary>What a layout says wins over what would be recognised.</summary>
public sealed class LayoutTests
{
    private const string Rows = "1,2,291,1,16\n2,2,291,1,17\n3,2,291,1,18\n";

    [Fact]
    public void Columns_by_position()
    {
        var captured = Captured.Of(Rows, Layout("columns: [time, bus, id, length, byte]\ntime: {unit: ms}\nnumbers: {id: decimal, data: decimal}"));

        Assert.Equal([1, 2, 3], captured.Entries.Select(e => e.TimeNs / 1_000_000));
        Assert.All(captured.Entries, e => Assert.Equal(("2", 0x123u), (e.Bus, e.Id)));
        Assert.Equal(["10", "11", "12"], captured.Entries.Select(e => e.Data));
    }

    [Fact]
    public void Single_facts_correct_what_is_recognised()
    {
        const string Text = "time,id,data\n1,00000123,00\n2,00000123,01\n3,00000123,02\n";

        Assert.All(Captured.Of(Text).Entries, e => Assert.Equal(FrameTraits.None, e.Traits));
        var captured = Captured.Of(Text, Layout("time: {unit: us}\nid kind: by digits"));
        Assert.All(captured.Entries, e => Assert.Equal(FrameTraits.Extended, e.Traits));
        Assert.Equal([1000, 2000, 3000], captured.Entries.Select(e => e.TimeNs));
    }

    [Fact]
    public void Without_a_time_column_entries_are_numbered()
    {
        var captured = Captured.Of(Rows, Layout("columns: [other, other, id, length, data]\nnumbers: {id: decimal}"));

        Assert.False(captured.Summary!.HasTime);
        Assert.Equal([0, 1000, 2000], captured.Entries.Select(e => e.TimeNs));
    }

    [Theory]
    [InlineData("11 bit", "7FF", FrameTraits.None)]
    [InlineData("29 bit", "123", FrameTraits.Extended)]
    [InlineData("by digits", "00000123", FrameTraits.Extended)]
    [InlineData("by value", "00000123", FrameTraits.None)]
    public void The_kind_of_identifiers(string rule, string id, FrameTraits traits) =>
        Assert.Equal(traits, Captured.Of($"1;{id};00\n", Layout($"columns: [time, id, data]\nseparator: semicolon\nid kind: {rule}")).Entries.Single().Traits);

    [Fact]
    public void Text_logs_take_the_rule_for_identifiers()
    {
        const string Text = "(1.0) a 00000123#00\n(2.0) a 00000456#00\n";

        Assert.All(Captured.Of(Text).Entries, e => Assert.Equal(FrameTraits.None, e.Traits));
        Assert.All(Captured.Of(Text, Layout("id kind: by digits")).Entries, e => Assert.Equal(FrameTraits.Extended, e.Traits));
    }

    private static TableLayout Layout(string rest)
    {
        var bag = new DiagnosticBag();
        var source = new SourceText("layout.yaml", $"locum: 1\nlayout: test\n{rest}\n");
        var layout = LayoutBinder.Bind(source, SyntaxReader.Read(source, bag)!, bag);
        Assert.False(bag.HasErrors, bag.HasErrors ? bag.Sorted[0].Message : "");
        return layout!;
    }
}
