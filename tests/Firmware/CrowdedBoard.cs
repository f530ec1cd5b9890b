using Locum.Boards;
using Locum.Model;
using Locum.Planning;
using Locum.Tests.Properties;

namespace Locum.Tests.Firmware;

/// <summary>
/// One module on several buses of a board, CAN FD and classic in turn where the board can: an input, frames of both
/// identifier lengths that are sent and followed on each bus, and others that the filters must keep out. While the first
/// bus is blocked more frames are due than there are mailboxes, the same one twice, and one that overtakes.
/// </summary>
internal static class CrowdedBoard
{
    public static (BoardPlan Plan, Stimulus Stimulus) On(string kind, int buses, string guards = "")
    {
        var fd = BoardCatalogue.Find(kind)!.Fd;
        string[] module =
        [
            "locum: 1", "module: m", "hazard: none",
            "buses:", .. Each(buses, b => $"  b#: {{rate: {(b is 0 ? 500 : 250)} kbit/s{(fd && b % 2 is 0 ? ", data rate: 2 Mbit/s" : "")}}}"),
            "inputs: {line: {kind: line, active: high, debounce: 5 ms}}",
            "receives:",
            .. Each(buses, _ => "  Heard#: {bus: b#, id: 0x1#0, timeout: 100 ms, fields: {v: {bit: 0, bits: 8}}}"),
            .. Each(buses, _ => "  Wide#: {bus: b#, id: 0x18FF000#, timeout: 100 ms, fields: {w: {bit: 8, bits: 8}}}"),
            "modes: {off: {until: {line: active, then: working}}, working: {until: {line: inactive, then: off}}}",
            "frames:",
            .. Each(buses, b => "  Quick#: {bus: b#, id: 0x20#, " + (fd && b % 2 is 0 ? "format: fd, length: 48" : "length: 8")
                + ", every: 5 ms, in: [working], fields: {v: {bit: 0, bits: 8, follow: Heard#.v, lost: 255}, n: {bit: 16, bits: 8, counter: {to: 255}}}}"),
            .. Each(buses, _ => "  Slow#: {bus: b#, id: 0x30#, length: 6, every: 20 ms, offset: 3 ms, fields: {w: {bit: 0, bits: 8, follow: Wide#.w, lost: 254}, n: {bit: 8, bits: 8, counter: {to: 255}}}}"),
            .. Each(buses, _ => "  Late#: {bus: b#, id: 0x18EE000#, length: 8, every: 50 ms, offset: 3 ms, fields: {n: {bit: 0, bits: 8, counter: {to: 255}}}}"),
            .. Each(buses, _ => "  Reply#: {bus: b#, id: 0x40#, length: 1, on: [{receive: Heard#}], fields: {n: {bit: 0, bits: 8, counter: {to: 255}}}}"),
            .. Each(buses, _ => "  Last#: {bus: b#, id: 0x18EF000#, length: 2, every: 50 ms, offset: 9 ms, fields: {n: {bit: 0, bits: 8, counter: {to: 255}}}}"),
        ];
        string[] stimulus =
        [
            "locum: 1", "stimulus: s", "for: 1.5 s",
            "inputs: {line: [{at: 101.3 ms, level: active}, {at: 900.7 ms, level: inactive}]}",
            "traffic:",
            .. Each(buses, _ => "  b#: [{id: 0x1#0, every: 20 ms, offset: 1.2 ms, until: 700 ms, data: 1# 02, changes: [{at: 401.2 ms, data: 2# 03}]}, {id: 0x18FF000#, every: 30 ms, offset: 2.4 ms, until: 800 ms, data: 01 3#}, {id: 0x15#, every: 10 ms, offset: 7.7 ms, data: 55}]"),
            "blocked: {b0: [{from: 502 ms, until: 510.5 ms}, {from: 625 ms, until: 635 ms}]}",
        ];
        var loaded = new GeneratedProject([string.Join('\n', module) + "\n"], [string.Join('\n', stimulus) + "\n"]) { Guards = guards }.Load();
        return (GeneratedProject.On(kind, loaded.Use)!, loaded.Stimuli[0]);
    }

    // The number of the bus takes the place of every #.
    private static IEnumerable<string> Each(int buses, Func<int, string> line) =>
        Enumerable.Range(0, buses).Select(b => line(b).Replace("#", $"{b}", StringComparison.Ordinal));
}
