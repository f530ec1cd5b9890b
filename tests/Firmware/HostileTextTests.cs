using System.Text.Json;
using System.Text.RegularExpressions;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Proving;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Firmware;

/// <summary>Text that tries to leave the comments it is shown in, and names that mean something in C.</summary>
public sealed partial class HostileTextTests(HostileTextTests.Compiler compiler) : IClassFixture<HostileTextTests.Compiler>
{
    private static readonly string[] s_texts =
    [
        "*/ int leaked; /*",
        "* / */*/ /* // */",
        "ends with a backslash \\",
        "two\\\nlines \\\r\nand\rmore\n#error leaked\n",
        "trigraphs ??/\n#error leaked\n ??) ??= ??'",
        "? ?/ ?\u0301/ ?\u0301?\u0301/\n",
        "*\u0301/ #error leaked",
        "// # % %s %n %d $(rm -rf leaked) `touch leaked` ${HOME} $$(shell touch leaked)",
        "\"quoted\" 'single' \\\" \\n \\0 \\x41",
        "<script>alert(1)</script> & | [a](javascript:b) ![x](y)",
        "\u202Eright to left\u202C \u2066isolate\u2069 \uFEFF \u200B \u0007 \u001B[31m",
        "Ωμµ°–— ΣФ漢字 \U0001F682 e\u0301",
        "define endef endif\n\tall: ; touch leaked\n.PHONY: x\n",
        "{{ 1 + 1 }} {{ for x in y }} {%",
    ];

    public static TheoryData<string> Texts => [.. s_texts];

    public static TheoryData<string> Names =>
    [
        "int", "while", "main", "data", "sum", "mode", "base", "extra", "active", "core", "rules", "modules", "value", "static", "inline", "errno", "stdin", "true", "NULL", "unix", "linux", "uint8_t",
    ];

    [Theory]
    [MemberData(nameof(Texts))]
    public void Free_text_stays_inside_its_comment(string text)
    {
        var loaded = LoadTexts(text);
        Assert.False(loaded.Diagnostics.HasErrors, Found(loaded));
        var proof = compiler.Build.Prove(loaded.Plans[0], Stimulus.Quiet, text);
        Assert.True(proof.Equal, proof.Difference);
        Assert.True(proof.Frames > 10);
    }

    [Fact]
    public void Ten_thousand_letters_and_every_text_at_once_are_shown_whole()
    {
        var all = string.Concat(s_texts) + new string('x', 10_000) + "*/";
        foreach (var kind in new[] { "avr-mcp2515", "stm32f103-bxcan", "linux-socketcan", "sam3x8e-can", "rp2040-mcp2515", "own-board", "pc" })
        {
            var loaded = LoadTexts(all);
            var bag = new DiagnosticBag();
            var plan = BoardPlanner.Plan(loaded.Project!.Boards[0] with { Kind = kind }, bag);
            Assert.False(bag.HasErrors);
            using var folder = new FirmwareFolder(plan!);
            Assert.Equal("", folder.Make());
            Assert.False(File.Exists(Path.Combine(folder.Root, "leaked")));
            Assert.DoesNotContain(folder.Files, f => f.Text.Any(c => c is not ('\n' or '\t') && char.IsControl(c)));
        }
    }

    [Theory]
    [MemberData(nameof(Texts))]
    public void Hostile_names_are_refused_in_words(string text)
    {
        foreach (var place in new[] { "module", "bus", "input", "mode", "frame", "field", "counter" })
        {
            var loaded = Load(Description(place, Quote(text)));
            Assert.True(loaded.Diagnostics.HasErrors, $"{place} {text}");
            Assert.Contains(loaded.Diagnostics.Sorted, d => d.Code == Codes.BadName);
            Assert.DoesNotContain(loaded.Diagnostics.Sorted, d => d.Message.Any(char.IsControl));
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Words_of_c_can_be_names(string name)
    {
        var loaded = Load(Description("all", name));
        Assert.False(loaded.Diagnostics.HasErrors, Found(loaded));
        var proof = compiler.Build.Prove(loaded.Plans[0], Stimulus.Quiet, name);
        Assert.True(proof.Equal, proof.Difference);
    }

    // Names that are joined with '_' in C, or that meet the core's own: refused in words, or they compile.
    [Theory]
    [Sampled("input", "run", "run", "A")]
    [InlineData("module", "module", "x", "A")]
    [Sampled("locum", "none", "x", "A")]
    [Sampled("locum", "id extended", "x", "A")]
    [InlineData("locum", "rom", "x", "step")]
    [InlineData("board", "buses", "x", "A")]
    [Sampled("lap", "us", "x", "A")]
    [InlineData("uint8", "max", "x", "A")]
    [Sampled("int64", "c", "x", "t")]
    [Sampled("a", "leave", "x", "leave")]
    [Sampled("mcp", "reset", "x", "A")]
    public void Joined_names_compile_or_are_refused(string module, string mode, string input, string frame)
    {
        var loaded = Load(Fill("""
            locum: 1
            module: @module
            hazard: none
            buses: {b: {rate: 500 kbit/s}}
            inputs: {@input: {active: high}}
            modes: {@mode: {until: {@input: active, then: zz}}, zz: {}}
            frames: {@frame: {id: 1, length: 1, every: 20 ms, fields: {v: {bit: 0, bits: 2, value: {@mode: 1, zz: 2}}}}}
            """, ("module", module), ("mode", mode), ("input", input), ("frame", frame)));
        if (loaded.Diagnostics.HasErrors)
            return;
        using (var avr = new FirmwareFolder(On("avr-mcp2515", loaded)))
            Assert.Equal("", avr.Make());
        var proof = compiler.Build.Prove(loaded.Plans[0], Stimulus.Quiet);
        Assert.True(proof.Equal, proof.Difference);
    }

    [Theory]
    [InlineData("A", "b c", "A b", "c")]
    [InlineData("a", "b sent", "a b", "sent")]
    public void Two_modules_whose_joined_names_meet_compile_or_are_refused(string first, string firstPart, string second, string secondPart)
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("1.yaml"), Small(first, firstPart, 1));
        File.WriteAllText(folder.Path("2.yaml"), Small(second, secondPart, 2));
        File.WriteAllText(folder.Path("project.yaml"), "locum: 1\nproject: p\nboards: {one: {board: pc, modules: [1.yaml, 2.yaml]}}\n");
        var loaded = Loader.Load(folder.Path());
        if (loaded.Diagnostics.HasErrors)
            return;
        var proof = compiler.Build.Prove(loaded.Plans[0], Stimulus.Quiet);
        Assert.True(proof.Equal, proof.Difference);

        static string Small(string module, string part, int id) => $"locum: 1\nmodule: {module}\nhazard: none\nbuses: {{b: {{rate: 500 kbit/s}}}}\nmodes: {{{part}: {{}}}}\nframes: {{{part}: {{id: {id}, length: 1, every: 20 ms}}}}\n";
    }

    private static BoardPlan On(string kind, Loaded loaded) => BoardPlanner.Plan(loaded.Project!.Boards[0] with { Kind = kind }, new DiagnosticBag())!;

    // Every place of a description that takes any text.
    private static Loaded LoadTexts(string text) => Load(Fill("""
        locum: 1
        module: m
        summary: @text
        hazard: braking
        acknowledge: @reason
        buses: {b: {rate: 500 kbit/s}}
        frames:
          F:
            id: 1
            length: 2
            every: 20 ms
            fields:
              v: {bit: 0, bits: 7, scale: 0.5, unit: @text, names: {? @text : 3}, value: @text}
              w: {bit: 8, bits: 7, scale: 0.5, unit: @text, value: 1}
        """, ("text", Quote(text)), ("reason", Quote("x" + text))));

    // One name in one place, or in all of them.
    private static string Description(string place, string name) => Fill("""
        locum: 1
        module: @module
        hazard: none
        buses: {? @bus : {rate: 500 kbit/s}}
        inputs: {? @input : {active: high}}
        modes: {? @mode : {until: {? @input : active, then: zz}}, zz: {}}
        counters: {? @counter : {to: 3}}
        frames:
          ? @frame
          : bus: @bus
            id: 1
            length: 2
            every: 20 ms
            fields:
              ? @field
              : {bit: 0, bits: 2, counter: @counter}
              s: {bit: 8, bits: 8, checksum: {rule: crc8-autosar, with: [length, {secret: 01 02 03 04}]}}
              q: {bit: 2, bits: 2, value: {? @mode : 1, zz: 2}}
        """, [.. new[] { "module", "bus", "input", "mode", "counter", "frame", "field" }.Select(p => (p, place == p || place is "all" ? name : p))]);

    private static string Fill(string template, params (string Key, string Value)[] values) =>
        Key().Replace(template, m => values.Single(v => v.Key == m.Groups[1].Value).Value);

    [GeneratedRegex("@([a-z]+)")]
    private static partial Regex Key();

    private static string Quote(string text) => JsonSerializer.Serialize(text);

    private static Loaded Load(string description)
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("m.yaml"), description);
        return Loader.Load(folder.Path("m.yaml"));
    }

    public sealed class Compiler : IDisposable
    {
        internal JoinedBuild Build { get; } = new(CCompiler.Find("gcc")!, ["-O0"], []);

        public void Dispose() => Build.Dispose();
    }

    private static string Found(Loaded loaded) => string.Join("\n", loaded.Diagnostics.Sorted.Select(d => $"{d.Code.Id} {d.Message}"));
}
