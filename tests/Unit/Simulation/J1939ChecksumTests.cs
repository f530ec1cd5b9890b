using Locum.Model;
using Locum.Simulation;
using Locum.Tests.Unit.Formulas;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>
/// Message checksum of SAE J1939-71 (SPN 4206, 4207): worked rows computed from the rule as it is remembered. The rule
/// is from memory; no published row confirms it.
/// </summary>
public sealed class J1939ChecksumTests
{
    public static TheoryData<uint, string, byte, byte> Rows => new()
    {
        { 0x0C000003, "00000000000000", 0, 0x00 },
        { 0x0C000003, "FFFFFFFFFFFFFF", 0, 0x10 },
        { 0x0C000003, "01E02E7D00FFFF", 3, 0x13 },
        { 0x0C00000B, "01401F7DFFFFFF", 5, 0x75 },
        { 0x0C000003, "01E02E7D00FFFF", 7, 0x67 },
    };

    [Theory]
    [MemberData(nameof(Rows))]
    public void The_named_rule_gives_the_rows(uint id, string bytes, byte counter, byte last)
    {
        var field = Field(id, "j1939-71");
        var payload = Payload(bytes, counter);
        var sum = ChecksumEngine.Compute(Assert.IsType<ChecksumValue>(field.Source).Checksum, new CanId(id, true), payload, _ => 0);
        Assert.Equal(last, sum << 4 | counter);
    }

    [Theory]
    [MemberData(nameof(Rows))]
    public void The_same_rule_as_a_formula_gives_the_rows(uint id, string bytes, byte counter, byte last)
    {
        const string sum = "sum(0, 7) + bits(id, 0, 8) + bits(id, 8, 8) + bits(id, 16, 8) + bits(id, 24, 5)";
        var field = Field(id, $"{{formula: '((({sum}) >> 6 & 3) + (({sum}) >> 3) + {sum}) & 7'}}");
        var rule = Assert.IsType<FormulaRule>(Assert.IsType<ChecksumValue>(field.Source).Checksum.Rule);
        var value = Locum.Formulas.Evaluator.Compile(rule.Formula.Root)(new Sample { Bytes = Payload(bytes, counter) });
        Assert.Equal(last, value << 4 | counter);
    }

    [Fact]
    public void The_core_folds_every_sum_as_the_simulator_does()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("fold.c"), """
            #include <stdio.h>
            #include "locum_checksum.h"
            int main(void)
            {
                for (unsigned s = 0; s <= 0xFFFFu; s++) {
                    putchar('0' + locum_fold_j1939((uint16_t)s));
                }
                return 0;
            }

            """);
        Shell.Must("gcc", ["-std=c99", "-Wall", "-Wextra", "-Wconversion", "-Werror", "-I", RepoRoot.Path("shared", "core"), "-o", folder.Path("fold"), folder.Path("fold.c"), RepoRoot.Path("shared", "core", "locum_checksum.c")]);
        var printed = Shell.Must(folder.Path("fold"), []);
        Assert.Equal(0x10000, printed.Length);
        for (var sum = 0; sum <= 0xFFFF; sum++)
            Assert.Equal((char)('0' + ((((sum >> 6) & 3) + (sum >> 3) + sum) & 7)), printed[sum]);
    }

    private static byte[] Payload(string bytes, byte counter) => [.. Convert.FromHexString(bytes), counter];

    private static Field Field(uint id, string rule)
    {
        var (module, found) = Descriptions.Bind(Descriptions.Module(
            $"frames: {{F: {{id: 0x{id:X8}, length: 8, every: 10 ms, fields: {{count: {{bit: 56, bits: 4, counter: {{to: 7}}}}, check: {{bit: 60, bits: 4, checksum: {{rule: {rule}}}}}}}}}}}"));
        Assert.Empty(found);
        return module.Frames[0].Fields[1];
    }
}
