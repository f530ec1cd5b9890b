using Locum.Diagnostics;
using Locum.Formulas;
using Locum.Syntax;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Formulas;

/// <summary>Every text that is no formula is reported with its exact place.</summary>
public sealed class FormulaParserTests
{
    [Theory]
    [InlineData("", "LC1101", "")]
    [InlineData("  ", "LC1101", "")]
    [InlineData("u8 +", "LC1101", "")]
    [InlineData("(u8", "LC1101", "")]
    [InlineData("u8 ? 1", "LC1101", "")]
    [InlineData("u8 )", "LC1101", ")")]
    [InlineData("u8 u16", "LC1101", "u16")]
    [InlineData("u8 and u16", "LC1101", "and")]
    [InlineData("min(u8 u16)", "LC1101", "u16")]
    [InlineData("min(u8,)", "LC1101", ")")]
    [InlineData("* u8", "LC1102", "*")]
    [InlineData("u8 + * 3 +", "LC1101", "")]
    [InlineData("u8; 3", "LC1101", ";")]
    [InlineData("u8 + 'a'", "LC1101", "'")]
    [InlineData("u8 + \"a\"", "LC1101", "\"")]
    [InlineData("#if u8", "LC1101", "#")]
    [InlineData("u8 // note", "LC1101", "//")]
    [InlineData("u8 /* note */", "LC1101", "/*")]
    [InlineData("data[0]", "LC1101", "[")]
    [InlineData("u8 + \\u0041", "LC1101", "\\")]
    [InlineData("u8 = 3", "LC1102", "=")]
    [InlineData("u8 += 3", "LC1102", "+=")]
    [InlineData("u8 + flag++", "LC1102", "++")]
    [InlineData("--u8", "LC1102", "--")]
    [InlineData("u8 ** 2", "LC1102", "*")]
    [InlineData("u8 ^^ flag", "LC1102", "^")]
    [InlineData("u8 >>> 1", "LC1102", ">>>")]
    [InlineData("u8 ?? 1", "LC1102", "??")]
    [InlineData("(u8)(u16)", "LC1102", ")")]
    [InlineData("(u8)~u16", "LC1102", ")")]
    [InlineData("3(u8)", "LC1102", "3")]
    [InlineData("(u8, u16)", "LC1102", "(u8, u16)")]
    [InlineData("0 .. 3", "LC1102", "..")]
    [InlineData("u8 => 3", "LC1102", "u8 => 3")]
    [InlineData("min(u8 < flag, u16 > (4))", "LC1102", "u8 < flag, u16 >")]
    [InlineData("min(a: u8, 3)", "LC1102", "a: u8")]
    [InlineData("1.5 * u8", "LC1104", "1.5")]
    [InlineData("u8 + 3u", "LC1104", "3u")]
    [InlineData("u8 + 0x", "LC1104", "0x")]
    [InlineData("u8 + 1_000", "LC1104", "1_000")]
    [InlineData("u8 + 007", "LC1104", "007")]
    [InlineData("2147483648", "LC1104", "2147483648")]
    [InlineData("-2147483649", "LC1104", "2147483649")]
    [InlineData("u8 + 0x100000000", "LC1104", "0x100000000")]
    [InlineData("u8 + 99999999999999999999999", "LC1104", "99999999999999999999999")]
    [InlineData("1 + u9", "LC1105", "u9")]
    [InlineData("1 + Drive.sped", "LC1105", "Drive.sped")]
    [InlineData("1 + Drive.speed.low", "LC1105", "Drive.speed.low")]
    [InlineData("1 + after-run", "LC1105", "after")]
    [InlineData("maxi(u8, 1)", "LC1106", "maxi")]
    [InlineData("1 + abs()", "LC1106", "abs()")]
    [InlineData("abs(u8, 1)", "LC1106", "abs(u8, 1)")]
    [InlineData("byte(8)", "LC1106", "8")]
    [InlineData("byte(-1)", "LC1106", "-1")]
    [InlineData("byte(u8)", "LC1106", "u8")]
    [InlineData("sum(3, 2)", "LC1106", "sum(3, 2)")]
    [InlineData("bits(u8, 0, 32)", "LC1106", "32")]
    [InlineData("bits(u8, 30, 4)", "LC1106", "30")]
    [InlineData("bits(w64, 60, 5)", "LC1106", "60")]
    [InlineData("1 + later", "LC1107", "later")]
    [InlineData("w32 + 1", "LC1108", "w32")]
    [InlineData("mode + 1", "LC1109", "mode")]
    [InlineData("mode < running", "LC1109", "mode")]
    [InlineData("mode == runing", "LC1109", "runing")]
    [InlineData("3 != mode", "LC1109", "3")]
    [InlineData("u8 / (u8 * 0)", "LC1110", "/")]
    [InlineData("u8 % 0", "LC1110", "%")]
    [InlineData("100 / u8", "LC1111", "/")]
    [InlineData("u8 >> 32", "LC1112", ">>")]
    [InlineData("u8 << -1", "LC1112", "<<")]
    [InlineData("1 << lock * 3 & 0xFF", "LC1113", "<<")]
    [InlineData("2147483647 + 1", "LC1114", "+")]
    [InlineData("u31 * 4 / 4", "LC1115", "*")]
    [InlineData("- s32", "LC1115", "- s32")]
    [InlineData("abs(s32)", "LC1115", "abs(s32)")]
    public void A_text_that_is_no_usable_formula_is_reported_in_its_place(string text, string code, string part)
    {
        var (_, found) = Sample.Parse(text);
        var finding = found[0];
        Assert.Equal(code, finding.Code.Id);
        if (part.Length > 0)
            Assert.Equal(part, text.Substring(finding.Span.Column - 1, finding.Span.EndColumn - finding.Span.Column));
        Assert.NotNull(finding.Mend);
    }

    [Theory]
    [InlineData("u8 + u16 * 2 - 3")]
    [InlineData("lock + after_run + Drive.speed + Drive . speed")] // a word of C#, a mode's name
    [InlineData("-2147483648 + (0x80000000 == 2147483647 ? 0b1 : 0XFF)")]
    [InlineData("mode == after_run || asleep_or(1) == 0 ? 1 : 0", "LC1106")]
    [InlineData("mode == after_run || running != mode")]
    [InlineData("u8 < u16 ? (s8) : -(s8)")]
    [InlineData("u8\n + \r\n\t1")]
    [InlineData("(u31 * 16) & 0xFFFF")] // only bits that overflow does not touch count
    [InlineData("bits(u31 * 16 + s32, 0, 8)")]
    [InlineData("100 / (u8 == 0 ? 1 : u8) + 100 / (u8 != 0 ? u8 : 3) + 100 / max(u8, 1) + 100 / (u8 | 1)")]
    [InlineData("bits(w64, 33, 31)")]
    [InlineData("0 ? 1 / 0 : 3")] // never computed
    public void Usable_formulas_give_no_finding(string text, string codes = "") =>
        Assert.Equal(codes, Descriptions.Ids(Sample.Parse(text).Found));

    [Theory]
    [InlineData("u8", 8, false, "")]
    [InlineData("u8", 7, false, "LC1117")]
    [InlineData("u8", 8, true, "LC1117")]
    [InlineData("u8 + 256", 8, false, "LC1116")]
    [InlineData("s8", 8, false, "LC1117")]
    [InlineData("-1", 8, false, "LC1116")]
    [InlineData("-1", 8, true, "")]
    [InlineData("s32", 32, true, "")]
    [InlineData("s32", 32, false, "LC1117")]
    [InlineData("u31", 32, false, "")]
    [InlineData("s32", 64, true, "")]
    [InlineData("-3 - u8", 40, false, "LC1116")]
    [InlineData("clamp(s32, 0, 9)", 4, false, "")]
    [InlineData("s32 & 0x1F", 5, false, "")]
    public void A_value_that_may_not_fit_its_field_is_reported(string text, int bits, bool signed, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Sample.Parse(text, bits, signed).Found));

    [Theory]
    [InlineData("formula: u9", 10, 12)]
    [InlineData("formula: \"1 + u9\"", 15, 17)]
    [InlineData("formula: '1 + u9'", 15, 17)]
    [InlineData("formula: \"1\\x20+ u9\"", 10, 21)] // with an escape: the whole value
    public void Places_are_exact_inside_plain_and_quoted_values(string yaml, int first, int end)
    {
        var (root, _) = Descriptions.Parse(yaml);
        var node = (ScalarNode)((MappingNode)root!).Entries[0].Value;
        var bag = new DiagnosticBag();
        FormulaParser.Parse(new FormulaText(node.Value, node.Span), new Sample(), 32, true, bag);
        var span = Assert.Single(bag.Sorted).Span;
        Assert.Equal((1, first, end), (span.Line, span.Column, span.EndColumn));
    }

    [Fact]
    public void Several_wrong_names_are_reported_together() =>
        Assert.Equal("LC1105 LC1105 LC1106", Descriptions.Ids(Sample.Parse("u9 + (u10 ? 1 : mix(3))").Found));

    [Fact]
    public void Size_and_depth_are_limited()
    {
        Assert.Equal("", Ids(string.Join('+', Enumerable.Repeat("flag", 100))));
        Assert.Equal("LC1103", Ids(string.Join('+', Enumerable.Repeat("flag", 101))));
        Assert.Equal("", Ids($"{new string('(', 32)}1{new string(')', 32)}"));
        Assert.Equal("LC1103", Ids($"{new string('(', 33)}1{new string(')', 33)}"));
        Assert.Equal("LC1103", Ids($"{string.Concat(Enumerable.Repeat("- ", 33))}flag"));
        Assert.Equal("LC1103", Ids(new string(' ', 2001)));

        static string Ids(string text) => Descriptions.Ids(Sample.Parse(text).Found);
    }

    [Theory]
    [InlineData("u8<", 600)]
    [InlineData("(", 2000)]
    [InlineData("u8?", 600)]
    [InlineData("min(", 31)]
    [InlineData("(u8<u8,", 32)]
    [InlineData("u8<u8,", 300)]
    [InlineData("- ", 1000)]
    [InlineData("!~", 900)]
    [InlineData("1+", 1000)]
    [InlineData("u8?.", 400)]
    [InlineData("?(", 31)]
    public void Hostile_texts_end_in_a_finding_and_soon(string part, int times)
    {
        var clock = System.Diagnostics.Stopwatch.StartNew();
        var (_, found) = Sample.Parse(string.Concat(Enumerable.Repeat(part, times)));
        Assert.Contains(found, f => f.Severity is Severity.Error);
        Assert.True(clock.Elapsed < TimeSpan.FromSeconds(5), $"{clock.Elapsed}");
    }

    [Fact]
    public void Texts_by_lot_never_fault_and_places_lie_inside()
    {
        const string signs = "u8 s32 mode id .+-*/%<>=!&|^~?:(),0x1 min(byte(";
        var random = new Random(5);
        for (var i = 0; i < 20_000; i++)
        {
            var text = string.Concat(Enumerable.Range(0, random.Next(1, 24)).Select(_ => signs[random.Next(signs.Length)]));
            var (formula, found) = Sample.Parse(text);
            Assert.True(formula is not null || found.Count > 0, text);
            Assert.All(found, f => Assert.InRange(f.Span.Column, 1, text.Length + 1));
        }
    }
}
