using CsCheck;
using Locum.Binding;
using Xunit;

namespace Locum.Tests.Unit.Binding;

public class NamesTests
{
    [Theory]
    [InlineData("ClimateStatus", "climate_status")]
    [InlineData("seat-climate", "seat_climate")]
    [InlineData("run line", "run_line")]
    [InlineData("v1.2", "v1_2")]
    [InlineData("Frame2Go", "frame2_go")]
    [InlineData("ABC", "abc")]
    [InlineData("int", "int")]
    [InlineData("Tür", "tu00fcr")]
    [InlineData("扉", "u6249")]
    [InlineData("𝒳", "u1d4b3")]
    [InlineData("a_b", "a_b")]
    public void A_name_becomes_a_part_of_a_c_identifier(string name, string c) => Assert.Equal(c, Names.ToC(name));

    [Theory]
    [InlineData("a", true)]
    [InlineData("Überwachung-Türen", true)]
    [InlineData("扉 1", true)]
    [InlineData("a.b_c-d", true)]
    [InlineData("", false)]
    [InlineData("1a", false)]
    [InlineData("-a", false)]
    [InlineData(" a", false)]
    [InlineData("a ", false)]
    [InlineData("a/b", false)]
    [InlineData("a\u202Eb", false)]
    [InlineData("a\u001b", false)]
    [InlineData("a*/", false)]
    [InlineData("a\\", false)]
    [InlineData("a\"", false)]
    [InlineData("a\nb", false)]
    [InlineData("a??/", false)]
    [InlineData("🚪", false)]
    [InlineData("e\u0301", false)] // a joining accent is no letter
    public void Names_start_with_a_letter_and_hold_nothing_that_acts(string name, bool usable) => Assert.Equal(usable, Names.IsUsable(name));

    [Fact]
    public void Names_end_at_48_characters()
    {
        Assert.True(Names.IsUsable(new string('a', 48)));
        Assert.False(Names.IsUsable(new string('a', 49)));
    }

    [Fact]
    public void Every_usable_name_gives_only_characters_of_c_identifiers() =>
        Gen.OneOf(Gen.Char, Gen.Char.AlphaNumeric, Gen.Char[" -_."]).Array[1, 12].Select(c => new string(c))
            .Check(seed: 7, count: 20_000, name =>
            {
                if (Names.IsUsable(name))
                    Assert.Matches("^[a-z][a-z0-9_]*$", Names.ToC(name));
            });
}
