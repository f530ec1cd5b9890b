using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class CrcCatalogueTests
{
    [Fact]
    public void Holds_every_vector_of_width_8_16_32_and_64_and_nothing_else()
    {
        var expected = CrcVectors.CheckValues.Where(row => row.Crc.Width is 8 or 16 or 32 or 64);

        Assert.Equal(
            expected.OrderBy(row => row.Crc.Name, StringComparer.Ordinal).Select(row => (row.Crc, row.Check)),
            CrcCatalogue.Entries.OrderBy(entry => entry.Parameters.Name, StringComparer.Ordinal)
                .Select(entry => (entry.Parameters, entry.Check)));
    }

    [Fact]
    public void Names_are_unique_lower_case_kebab_and_sorted()
    {
        Assert.All(CrcCatalogue.Names, name => Assert.Matches("^crc[0-9]+(-[a-z0-9]+)*$", name));
        Assert.Equal(CrcCatalogue.Names.Distinct().Order(StringComparer.Ordinal), CrcCatalogue.Names);
        Assert.Equal(CrcCatalogue.Entries.Sum(entry => 1 + entry.Aliases.Count), CrcCatalogue.Names.Count);
    }

    // Aliases of the published catalogue, from memory.
    [Theory]
    [InlineData("crc16-ccitt-false", "crc16-ibm-3740")]
    [InlineData("crc16-autosar", "crc16-ibm-3740")]
    [InlineData("crc32", "crc32-iso-hdlc")]
    [InlineData("crc32-c", "crc32-iscsi")]
    [InlineData("crc8", "crc8-smbus")]
    public void An_alias_leads_to_the_main_entry(string alias, string name) =>
        Assert.Equal(name, CrcCatalogue.Find(alias)?.Name);

    [Fact]
    public void An_unknown_name_leads_to_nothing() => Assert.Null(CrcCatalogue.Find("crc8-sae-j1580"));
}
