using System.Globalization;
using System.Text;

namespace Locum.Tests.Unit.Pages;

/// <summary>Descriptions of any size.</summary>
internal static class ManyFrames
{
    /// <summary>A description with so many frames on one bus, each with a counter and a checksum, in three modes.</summary>
    public static string Text(int frames)
    {
        var text = new StringBuilder("""
            locum: 1
            module: many
            summary: many frames
            hazard: none
            buses:
              body: {rate: 1000 kbit/s}
            inputs:
              run-line: {kind: wake line, active: high}
            modes:
              asleep: {sleep: yes, until: {run-line: active, then: waking}}
              waking: {for: 100 ms, then: running}
              running: {until: {run-line: inactive, then: asleep}}
            frames:

            """);
        for (var i = 0; i < frames; i++)
            text.Append(CultureInfo.InvariantCulture, $$$"""
                  Frame{{{i}}}:
                    id: 0x{{{0x100 + (3 * i):X}}}
                    length: 8
                    every: {{{50 * (1 + (i % 6))}}} ms
                    offset: {{{i * 300 % 50_000}}} us
                    fields:
                      load: {bit: 8, bits: 16, value: {{{i}}} }  # certain: {{{100 + i}}} frames, none against
                      alive: {bit: 48, bits: 4, counter: {from: 0, to: 14}}
                      guard: {bit: 56, bits: 8, checksum: {rule: crc8-sae-j1850, over: 0..6}}

                """);
        return text.ToString();
    }
}
