namespace Locum.Tests.Firmware;

/// <summary>The module, the guards and the stimuli with which boards are tried that hand their frames to somebody else's driver.</summary>
internal static class DriverTrials
{
    public const string Beat = """
        buses: {b: {rate: 500 kbit/s}}
        inputs: {key: {active: high}}
        modes: {first: {for: 2500 ms, then: second}, second: {until: {key: active, then: third}}, third: {}}
        frames:
          Fast:
            id: 0x120
            length: 4
            every: 10 ms
            offset: 3 ms
            fields:
              mode: {bit: 0, bits: 8, value: {first: 1, second: 2, third: 3}}
              sent: {bit: 8, bits: 8, counter: {}}
              slots: {bit: 16, bits: 8, counter: {advance: slot}}
          Slow: {id: 0x18FF1234, length: 8, every: 100 ms, offset: 3 ms, fields: {n: {bit: 0, bits: 8, counter: {}}}}
          Middle: {id: 0x130, length: 8, every: 100 ms, offset: 3 ms, base: 01 02 03 04 05 06 07 08}
          Third: {id: 0x125, length: 0, every: 50 ms, in: [third]}
        """;

    public const string Quiet = "for: 9 s\ninputs: {key: {at: 4128 ms, level: active}}";
    public const string Foreign = "for: 14 s\ntraffic: {b: [{id: 0x121, every: 10 ms, offset: 5 ms, data: 01}, {id: 0x18FF1234, at: 5104 ms, data: 00 00}]}";
    public const string Count = "{bus off: {recoveries: 2, within: 5 s, wait: 205 ms}}";
    public const string BusOffs = "for: 20 s\nbus off: {b: [1201 ms, 1601 ms, 7 s, 7600 ms, 8401 ms]}\nblocked: {b: [{from: 6982 ms, until: 7001 ms}]}";
    public const string Run = "{run at most: 1601 ms}";
    public const string OffUnasked = "for: 20 s\nbus off: {b: [1201 ms, 6995 ms]}\nblocked: {b: [{from: 6982 ms, until: 6996 ms}]}";
    public const string BlockedOnce = "for: 9 s\nblocked: {b: [{from: 6982 ms, until: 7012 ms}]}";
    public const string Ignore = "{foreign sender: ignore}";
    public const string Watchdog = "for: 14 s\nresets: {at: 4001 ms, cause: watchdog}";
}
