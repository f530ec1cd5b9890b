using Locum.Benching;
using Locum.Tests.Unit.Cli;
using Xunit;

namespace Locum.Tests.Unit.Benching;

/// <summary>Sheets of short descriptions, with figures computed by hand.</summary>
public sealed class BenchTests
{
    private const string Frames = "frames: {F: {id: 0x100, length: 1, every: 100 ms}}\n";

    [Fact]
    public void A_resistor_carries_its_power_in_warm_air()
    {
        // 25 V² / 240 ohm = 104 mW, with 1 % 105 mW; at 112.5 °C half the rating counts, half of that is used: 0.5 W.
        var row = Row(Of("ambient: 112.5 degC\n  resistors: {mat: {at least: 236 ohm, at most: 244 ohm, voltage: 5 V}}"), "resistors");

        Assert.Equal(["mat", "236 to 244 ohm", "240 ohm", "238 to 242 ohm", "105 mW", "0.5 W"], row.Select(c => c.Text));
        Assert.Equal(25 / (240 * 0.99), row[4].Value!.Value, 1e-9);
    }

    [Fact]
    public void A_pulse_counts_by_its_mean_and_by_its_peak()
    {
        // 1.5² A² * 2.7 ohm = 6.1 W for 1 % of the time; the peak asks for a tenth, 0.61 W, so 1 W.
        var table = Of("resistors: {loop: {at least: 2 ohm, at most: 3.2 ohm, pulse: {current: 1.5 A, for: 10 ms, every: 1 s}}}").Tables.Single(t => t.Key is "resistors");

        Assert.Equal(1.5 * 1.5 * 2.7 * 1.01 * 0.01, table.Rows[0][4].Value!.Value, 1e-9);
        Assert.Equal("1 W", table.Rows[0][5].Text);
        Assert.Contains(table.Notes, n => n.Contains("6.14 W at the peak and 61.4 mJ", StringComparison.Ordinal));
    }

    [Fact]
    public void Each_half_of_a_pair_takes_its_share()
    {
        // 2 * 1.5 kohm at 12 V: 48 mW, 24 mW each.
        var sheet = Of("resistors: {r: {at least: 2.9 kohm, at most: 3.1 kohm, tolerance: 0.5 %, series: E12, voltage: 12 V}}");

        Assert.Equal("1.5 + 1.5 kohm", Row(sheet, "resistors")[2].Text);
        Assert.Equal(0.024 / 0.995, Row(sheet, "resistors")[4].Value!.Value, 1e-9);
        Assert.Contains(sheet.Tables.Single(t => t.Key is "parts").Rows, r => r[1].Value is 2 && r[2].Text is "resistor 1.5 kohm, 0.5 %, 0.125 W");
    }

    [Fact]
    public void A_load_follows_the_supply_and_drops_in_its_wire()
    {
        var sheet = Of("ambient: 20 degC\n  loads: {lamp: {kind: filament, stages: [{current: 2 A}], wire: {length: 5 m, section: 0.75 mm2}}}");

        // 13.5 V / 2 A = 6.75 ohm, 6.8 of E24: 9 V make 1.32 A, 16 V 2.35 A and 39.6 W with 5 % less.
        var load = Row(sheet, "loads");
        Assert.Equal(["lamp", "0 s", "2 A", "6.8 ohm", "1.32 A", "1.99 A", "2.35 A", "39.6 W", "100 W"], load.Select(c => c.Text));
        // Ten times 2 A * 16/13.5 cold; 2 * 5 m * 26 mohm/m * 2 A = 0.52 V of 13.5 V are 3.9 %.
        Assert.Equal(["lamp", "2.37 A", "23.7 A", "4.74 A", "4 A", "0.75 mm2", "10 A", "520 mV"], Row(sheet, "wires").Select(c => c.Text));
        Assert.Equal(20 * 16 / 13.5, Row(sheet, "inrush")[2].Value!.Value, 1e-9);
        Assert.Contains(sheet.Problems, p => p.Contains("loses 520 mV", StringComparison.Ordinal));
        Assert.False(sheet.Holds);
    }

    [Theory]
    [InlineData("current: 80 mA, dip: {to: 4.5 V, for: 100 ms}, lowest: 5.5 V, diode: 0.5 V", "2667 uF", "4700 uF")] // 8 mC / 3 V, 3333 uF with 20 %
    [InlineData("power: 500 mW, before: 12.5 V, dip: {to: 4.5 V, for: 50 ms}, lowest: 6 V, diode: 0.5 V", "463 uF", "680 uF")]
    public void Hold_up_has_the_next_value_that_is_enough(string keys, string needed, string chosen)
    {
        var rows = Of($"hold-up: {{{keys}}}").Tables.Single(t => t.Key is "hold-up").Rows.ToDictionary(r => r[0].Text, r => r[1].Text);

        Assert.Equal((needed, chosen, "50 V"), (rows["needed"], rows["next value"], rows["rated for"]));
    }

    [Fact]
    public void A_capacitor_that_is_too_small_does_not_hold() =>
        Assert.Contains("the fitted 1000 uF hold 30 ms instead of 100 ms", Of("hold-up: {current: 80 mA, dip: {to: 4.5 V, for: 100 ms}, lowest: 5.5 V, diode: 0.5 V, fitted: 1000 uF}").Problems);

    [Fact]
    public void Hardly_any_drop_needs_more_than_there_is() =>
        Assert.Equal("1000000 F", Of("hold-up: {power: 500 mW, before: 9 V, dip: {to: 4.5 V, for: 1 s}, lowest: 8.4999999999999999 V, diode: 0.5 V}").Tables.Single(t => t.Key is "hold-up").Rows[2][1].Text);

    [Fact]
    public void A_shallow_dip_needs_no_capacitor() =>
        Assert.Contains("no capacitor is needed", Row(Of("hold-up: {current: 80 mA, dip: {to: 7 V, for: 100 ms}, lowest: 5.5 V}"), "hold-up")[2].Text);

    [Theory]
    [InlineData("a: , b: {removed: yes}", "60 ohm", "120 ohm", "60 ohm", "terminate, 120 ohm")]
    [InlineData("a: , b: ", "60 ohm", "60 ohm", "40 ohm", "no termination")]
    [InlineData("a: {removed: yes}, b: {removed: yes}", "60 ohm", "open", "120 ohm", "neither is right: look for the ends of the bus")]
    public void What_the_stand_in_carries_depends_on_what_is_left(string nodes, params string[] expected) =>
        Assert.Equal(expected, Row(Of($"buses: {{body: {{terminations: {{{nodes}}}}}}}"), "termination").Skip(2).Select(c => c.Text));

    [Fact]
    public void Without_a_bench_the_buses_and_cautions_are_there_and_what_to_add()
    {
        var sheet = Bench.Of(Descriptions.Bind(Descriptions.Module(Frames)).Module);

        Assert.Equal(["termination", "lines"], sheet.Tables.Select(t => t.Key));
        Assert.Equal("0.6 m", Row(sheet, "lines")[2].Text);
        Assert.Contains("'bench'", Assert.Single(sheet.Missing));
        Assert.True(sheet.Holds);
        Assert.NotEmpty(sheet.Cautions);
    }

    [Theory]
    [InlineData("restraint", "never put an ohmmeter", "wait as long as", "Pyrotechnic parts are stored", "licensed practice and local law")]
    [InlineData("braking", "licensed practice and local law")]
    [InlineData("steering", "licensed practice and local law")]
    [InlineData("traction", "traction supply open", "licensed practice and local law")]
    [InlineData("high-voltage", "above 60 V", "qualified people", "licensed practice and local law")]
    public void Cautions_follow_the_hazard(string hazard, params string[] expected)
    {
        var text = Descriptions.Module(Frames).Replace("hazard: none", $"hazard: {hazard}\nacknowledge: tested");
        var cautions = string.Join(' ', Bench.Of(Descriptions.Bind(text).Module).Cautions);

        Assert.All(expected, e => Assert.Contains(e, cautions, StringComparison.Ordinal));
    }

    // Apart from the hash of the description in every head, and what follows from it: the mark of the firmware, the list of files.
    [Fact]
    public void A_bench_changes_nothing_in_the_firmware()
    {
        using var folder = new TempFolder();
        var text = File.ReadAllText(RepoRoot.Path("projects", "depot-loco", "charge-flap.yaml"));
        var cut = text.IndexOf("\nbench:", StringComparison.Ordinal);
        Assert.True(cut > 0);
        Assert.Equal(Files(text, "with"), Files(text[..cut], "without"));

        Dictionary<string, string> Files(string description, string name)
        {
            Directory.CreateDirectory(folder.Path(name));
            File.WriteAllText(folder.Path(name, "charge-flap.yaml"), description);
            var (code, _, error) = CommandLine.Run("generate", folder.Path(name, "charge-flap.yaml"), "--out", folder.Path(name, "out"));
            Assert.True(code is 0, error);
            var root = folder.Path(name, "out");
            return Directory.EnumerateFiles(root, "*", SearchOption.AllDirectories).Where(f => Path.GetFileName(f) is not "locum-files.txt").ToDictionary(
                f => Path.GetRelativePath(root, f),
                f => string.Join('\n', File.ReadAllLines(f).Where(l => !l.Contains("SHA-256", StringComparison.Ordinal) && !l.Contains("LOCUM_GUARD_MARK", StringComparison.Ordinal))));
        }
    }

    private static BenchSheet Of(string bench)
    {
        var (module, found) = Descriptions.Bind(Descriptions.Module($"{Frames}bench:\n  {bench}"));
        Assert.Empty(found);
        return Bench.Of(module);
    }

    private static IReadOnlyList<BenchCell> Row(BenchSheet sheet, string table) => sheet.Tables.Single(t => t.Key == table).Rows[0];
}
