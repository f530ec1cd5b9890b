using Locum.Pipeline;
using Xunit;

namespace Locum.Tests.Unit.BadInput;

public class HostileTextTests
{
    public static TheoryData<string> Texts =>
    [
        "*/ int main(void) { for (;;); } /*", "quote \\\" and \\\\ backslash", "two\\nlines", "tri ??/ graph ??=", "#include <x>", "int", "while",
        "\\e[31mred\\e[0m", "\\u202Eright to left", "ünïcode 扉 🚪", "\\0zero", "\\x7f", "%s%n", "${HOME}", "$(reboot)", "{{ 1 + 1 }}", "<script>", "../../etc", "CON", "",
        " ", "-", "~", "null", "yes", "1e999", "0x", "-9223372036854775809", "99999999999999999999999999", "\\uFFFE", "\\t",
    ];

    [Theory]
    [MemberData(nameof(Texts))]
    public void Odd_texts_in_every_place_give_findings_but_no_fault(string text)
    {
        var t = $"\"{text}\"";
        string[] places =
        [
            $"locum: {t}", $"module: {t}", $"summary: {t}", $"hazard: {t}", $"acknowledge: {t}", $"{t}: 1", $"buses: {t}", $"buses: {{{t}: {{rate: 5 kbit/s}}}}",
            $"buses: {{b: {{rate: {t}, sample point: {t}}}}}", $"inputs: {{{t}: {{kind: {t}, active: {t}, debounce: {t}}}}}",
            $"modes: {{{t}: {{for: {t}, then: {t}, sleep: {t}, until: {{{t}: {t}, then: {t}}}}}}}", $"counters: {{{t}: {{from: {t}, to: {t}, step: {t}, start: {t}, advance: {t}, restart: {t}}}}}",
            $"frames: {{{t}: {{bus: {t}, id: {t}, id kind: {t}, length: {t}, every: {t}, offset: {t}, in: {t}, base: {t}}}}}",
            $"frames: {{F: {{id: 1, length: 8, every: 1 s, fields: {{{t}: {{bit: {t}, bits: {t}, order: {t}, signed: {t}, scale: {t}, offset: {t}, unit: {t}, names: {{{t}: {t}}}, value: {t}}}}}}}}}",
            $"frames: {{F: {{id: 1, length: 8, every: 1 s, fields: {{f: {{bit: 0, bits: 8, value: {{{t}: {t}}}}}, g: {{bit: 8, bits: 8, counter: {t}}}}}}}}}",
            $"frames: {{F: {{id: 1, length: 8, every: 1 s, fields: {{f: {{bit: 0, bits: 8, checksum: {{rule: {t}, over: {t}, before: {t}, with: [{t}, {{secret: {t}, by: {t}}}], own bits: {t}}}}}}}}}}}",
            $"frames: {{F: {{id: 1, length: 8, every: 1 s, fields: {{f: {{bit: 0, bits: 8, checksum: {{rule: {{crc: {t}, poly: {t}, init: {t}, reflect in: {t}, reflect out: {t}, xor out: {t}}}}}}}}}}}}}",
            $"frames: {{F: {{id: 1, length: 8, every: 1 s, fields: {{f: {{bit: 0, bits: 8, checksum: {{rule: {{sum: {t}, start: {t}, complement: {t}}}}}}}}}}}}}",
            $"receives: {{{t}: {{bus: {t}, id: {t}, id kind: {t}, mask: {t}, timeout: {t}, fields: {{{t}: {{bit: {t}, bits: {t}, order: {t}, scale: {t}}}}}}}}}",
            $"buses: {{b: {{rate: 5 kbit/s}}}}\nreceives: {{R: {{id: 1, timeout: 1 s, fields: {{r: {{bit: 0, bits: 8}}}}}}}}\nmodes: {{a: {{until: {{R.r: {t}, then: a}}}}, b: {{until: {{R.r: {{{t}: {t}, at least: {t}, below: {t}}}, R: {t}, then: a}}}}}}\nframes: {{F: {{id: 2, length: 8, every: 1 s, fields: {{f: {{bit: 0, bits: 8, follow: {t}, lost: {t}}}, g: {{bit: 8, bits: 8, follow: R.r, lost: {t}}}}}}}}}",
            $"project: {t}\nboards: {{{t}: {{board: {t}, modules: [{t}], buses: {{{t}: {t}}}, inputs: {{{t}: {{{t}: {t}}}}}, led: {t}, bootloader: {t}, stimulus: {t}}}}}",
            $"stimulus: {t}\nfor: {t}\nclock: {t}\ninputs: {{{t}: {{at: {t}, level: {t}}}}}\ntraffic: {{{t}: {{id: {t}, id kind: {t}, data: {t}, every: {t}, offset: {t}, until: {t}}}}}\nblocked: {{{t}: {{from: {t}, until: {t}}}}}",
        ];
        foreach (var place in places)
            Findings.OfText($"{place}\n");
    }

    [Theory]
    [InlineData("-1")]
    [InlineData("-9223372036854775808")]
    [InlineData("9223372036854775807")]
    [InlineData("18446744073709551615")]
    [InlineData("79228162514264337593543950335")]
    [InlineData("1e28")]
    [InlineData("1e-28")]
    [InlineData("0.0000000000000000000000000001")]
    [InlineData("-0")]
    public void Huge_small_and_negative_numbers_are_findings_or_values(string number)
    {
        foreach (var bits in new[] { 1, 8, 32, 63, 64 })
            foreach (var sign in new[] { "yes", "no" })
                Findings.OfText(Descriptions.Fields($"f: {{bit: 0, bits: {bits}, signed: {sign}, scale: {number}, offset: {number}, value: {number}, names: {{a: {number}}}}}, g: {{bit: {number}, bits: {number}, counter: {{from: {number}, to: {number}, step: {number}}}}}"));
        Findings.OfText(Descriptions.Module($"modes: {{a: {{for: {number} s, then: b}}, b: }}\nframes: {{F: {{id: {number}, length: {number}, every: {number} h, offset: {number} us}}}}"));
    }

    [Fact]
    public void Texts_that_mean_nothing_to_the_language_stay_as_they_are()
    {
        using var folder = new TempFolder();
        var path = folder.Path("m.yaml");
        File.WriteAllText(path, "locum: 1\nmodule: int\nsummary: \"*/ ??/ \\\\ \\\" \\e[31m \\u202E\\n\"\nhazard: braking\nacknowledge: \"*/ the works, */\"\nbuses: {void: {rate: 500 kbit/s}}\nframes: {return: {id: 1, length: 1, every: 1 s}}\n");

        var loaded = Loader.Load(path);

        Assert.Empty(loaded.Diagnostics.Sorted);
        Assert.Equal("*/ ??/ \\ \" \u001b[31m \u202E\n", loaded.Project!.Summary);
    }
}
