using Locum.Syntax;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Syntax;

public class PositionTests
{
    [Theory]
    [InlineData("a: 1\nkey: value\n", "key", "2:1-2:4", "2:6-2:11")]
    [InlineData("a: 1\r\n\r\nkey:   value\r\n", "key", "3:1-3:4", "3:8-3:13")]
    [InlineData("{ä: 1, 扉: ö, key: value}", "key", "1:14-1:17", "1:19-1:24")]
    [InlineData("{🚪: 1, key: value}", "key", "1:9-1:12", "1:14-1:19")]
    [InlineData("'🚪🚪': x\nkey: \"v\"\n", "key", "2:1-2:4", "2:6-2:9")]
    [InlineData("# ünïcode\nkey: >\n  two\n  lines\nb: 1\n", "key", "2:1-2:4", "2:6-5:1")]
    [InlineData("key: two\n  lines\nb: 1\n", "key", "1:1-1:4", "1:6-2:8")]
    [InlineData("key: [1,\n  2]\n", "key", "1:1-1:4", "1:6-2:5")]
    [InlineData("key: {a: 1,\n  b: [2]}\n", "key", "1:1-1:4", "1:6-2:10")]
    [InlineData("key:\n  a: 1\n  b: 2\nc: 3\n", "key", "1:1-1:4", "2:3-4:1")]
    public void Keys_and_values_know_their_places_in_utf16_units(string text, string key, string keyPlace, string valuePlace)
    {
        var root = Assert.IsType<MappingNode>(Descriptions.Parse(text).Root);
        var entry = root.Entries.Single(e => e.Key.Value == key);

        Assert.Equal(keyPlace, Place(entry.Key.Span));
        Assert.Equal(valuePlace, Place(entry.Value.Span));
    }

    [Fact]
    public void Every_place_names_the_file() =>
        Assert.Equal(Descriptions.File, Descriptions.Parse("a: 1").Root!.Span.File);

    private static string Place(Span span) => $"{span.Line}:{span.Column}-{span.EndLine}:{span.EndColumn}";
}
