using Locum.Reporting;
using Locum.Tests.Unit.Cli;
using Xunit;

namespace Locum.Tests.Golden;

/// <summary>What locum simulate prints, as committed: the table and the sketch below it.</summary>
public class TimelineTests
{
    private const int Label = 20;

    [Theory]
    [InlineData("cab")]
    [InlineData("side")]
    public void A_board_of_the_demo_gives_exactly_the_expected_text(string board)
    {
        var (code, actual, _) = CommandLine.Run("simulate", RepoRoot.Path("projects", "depot-loco"), "--board", board);
        Assert.Equal(0, code);
        Accepted.Equal(actual, "simulate", $"{board}.txt");
    }

    [Fact]
    public void One_frame_stands_where_it_is_sent()
    {
        var sketch = Sketch("  Once: {id: 0x100, length: 1, on: [{start: yes, after: 500 ms}]}\n", "1 s");
        // 58 columns in a second: half of them lie before the frame.
        Assert.Equal($"{"Once",-Label} {new string(' ', 29)}.", sketch[2]);
        Assert.Equal($"{"x",-Label} |running", sketch[1]);
        Assert.Equal($"{"",-Label} |0         |200 ms     |400 ms    |600 ms     |800 ms", sketch[0]);
        Assert.Equal("a column is 17.2 ms; frames in it, from: . 1  : 2  - 4  = 8  + 16  * 32  # 64", sketch[3]);
    }

    [Fact]
    public void Density_doubles_from_one_character_to_the_next()
    {
        // A column is 100 ms: 1, 2, 5 and 20 frames fall into each.
        var sketch = Sketch("  A: {id: 1, length: 1, every: 100 ms}\n  B: {id: 2, length: 1, every: 50 ms}\n  C: {id: 3, length: 1, every: 20 ms}\n  D: {id: 4, length: 1, every: 5 ms}\n", "5.8 s");
        foreach (var (row, character) in new[] { (2, '.'), (3, ':'), (4, '-'), (5, '+') })
            Assert.Equal(new string(character, 58), sketch[row][(Label + 1)..]);
    }

    [Fact]
    public void Of_200_frames_the_first_rows_are_drawn_and_the_others_counted()
    {
        var frames = string.Concat(Enumerable.Range(0, 200).Select(i => $"  F{i}: {{id: {i + 1}, length: 1, every: 1 s}}\n"));
        var sketch = Sketch(frames, "10 s");
        Assert.Equal(1 + 24 + 2, sketch.Length);
        Assert.StartsWith("F22 ", sketch[24], StringComparison.Ordinal);
        Assert.StartsWith("and 177 more rows;", sketch[25], StringComparison.Ordinal);
        Assert.All(sketch, line => Assert.True(line.Length <= 80, line));
    }

    [Fact]
    public void Wide_letters_do_not_shift_the_columns()
    {
        var sketch = Sketch("  温度状態監視装置信号一覧表: {id: 1, length: 1, every: 1 s}\n", "10 s");
        Assert.StartsWith("温度状態監視装置信…  .", sketch[2], StringComparison.Ordinal);
        Assert.Equal(Label, DisplayWidth.Of(sketch[2][..sketch[2].IndexOf('.', StringComparison.Ordinal)]) - 1);
    }

    private static string[] Sketch(string frames, string time)
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("x.yaml"), $"locum: 1\nmodule: x\nhazard: none\nbuses: {{b: {{rate: 1 Mbit/s}}}}\nframes:\n{frames}");
        var (code, output, error) = CommandLine.Run("simulate", folder.Path("x.yaml"), "--for", time);
        Assert.True(code is 0, error);
        return output[(output.IndexOf("\n\n", StringComparison.Ordinal) + 2)..].TrimEnd('\n').Split('\n');
    }
}
