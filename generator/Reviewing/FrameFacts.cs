using Locum.Model;
using Locum.Wire;

namespace Locum.Reviewing;

/// <summary>Frames and their fields as items.</summary>
internal static class FrameFacts
{
    public static Item Of(Frame frame, Scope scope) => new()
    {
        Kind = "frame",
        Name = scope.Named("frame", "", frame.Name),
        WasNamed = scope.WasNamed("frame", "", frame.Name),
        Identity = frame.Id.ToString(),
        Hint = frame.Id.ToString(),
        Facts =
        [
            new("bus", scope.Bus(frame.Bus)),
            new("id", $"{frame.Id}"),
            new("id kind", frame.Id.Extended ? "29 bit" : "11 bit"),
            new("format", FormatWords.Of(frame.Format)),
            new("length", $"{frame.Length}"),
            .. Periods(frame, scope),
            new("offset", Say.Time(frame.OffsetUs)),
            .. Burst(frame.Burst),
            .. EventFacts.Of(frame, scope),
            new("modes", scope.Modes(frame.Modes)),
            .. Base(frame.Base),
            .. Protection(frame.Protection),
            new("pages", $"{frame.Pages.Count}"),
            new("after the last page", frame.Pages.Count is 0 ? "" : frame.HoldLastPage ? "hold" : "repeat") { Usual = "" },
        ],
        Children =
        [
            .. frame.Fields.Select(f => Field(f, frame, frame.Name, scope)),
            .. frame.Pages.Select((p, i) => Page(p, i, frame, scope)),
        ],
    };

    public static Item Received(ReceivedFrame frame, Scope scope) => new()
    {
        Kind = "received frame",
        Name = scope.Named("received frame", "", frame.Name),
        WasNamed = scope.WasNamed("received frame", "", frame.Name),
        Identity = $"{frame.Id} {frame.Mask:X}",
        Hint = frame.Mask is 0 ? "any" : frame.Id.ToString(),
        Facts =
        [
            new("bus", scope.Bus(frame.Bus)),
            new("id", frame.Mask is 0 ? "any" : $"{frame.Id}"),
            new("id kind", frame.Id.Extended ? "29 bit" : "11 bit"),
            new("mask", $"0x{frame.Mask:X}"),
            new("least length", $"{frame.Length}"),
            new("timeout", frame.TimeoutUs is { } timeout ? Say.Time(timeout) : "never"),
        ],
        Children = [.. frame.Fields.Select(f => Field(f, null, frame.Name, scope))],
    };

    private static Item Page(Page page, int index, Frame frame, Scope scope) => new()
    {
        Kind = "page",
        Name = $"{index + 1}",
        Identity = "",
        Facts = [.. Base(page.Base)],
        Children = [.. page.Fields.Select(f => Field(f, frame, $"{frame.Name} {index + 1}", scope))],
    };

    private static Item Field(Field field, Frame? frame, string of, Scope scope) => new()
    {
        Kind = "field",
        Name = scope.Named("field", of, field.Name),
        WasNamed = scope.WasNamed("field", of, field.Name),
        Identity = $"{field.Bit} {field.Bits} {field.BigEndian}",
        Hint = Place(field),
        Facts =
        [
            new("place", Place(field)),
            new("width", field.Bits is 1 ? "1 bit" : $"{field.Bits} bits"),
            new("order", field.BigEndian ? "big" : "little"),
            new("signed", Say.YesNo(field.Signed)),
            new("scale", Say.Number(field.Scale)),
            new("value offset", Say.Number(field.Offset)),
            new("unit", field.Unit ?? "none"),
            .. field.Names.OrderBy(n => n.Value).ThenBy(n => n.Key, StringComparer.Ordinal).Select(n => new Fact($"name {n.Key}", $"{n.Value}")),
            .. frame is null ? [] : SourceFacts.Of(field, frame, scope),
        ],
    };

    private static string Place(Field field) => $"byte {field.Bit / 8} bit {field.Bit % 8}";

    private static IEnumerable<Fact> Periods(Frame frame, Scope scope) =>
    [
        new("period", frame.PeriodByMode.Count > 0 ? "by mode" : frame.PeriodUs is 0 ? "none" : Say.Time(frame.PeriodUs)),
        .. frame.PeriodByMode.OrderBy(p => p.Key).Select(p => new Fact($"period in {scope.Mode(p.Key)}", Say.Time(p.Value))),
    ];

    private static IEnumerable<Fact> Burst(Burst? burst) =>
        [new("burst", burst is null ? "none" : $"{burst.Count} frames {Say.Time(burst.PeriodUs)} apart")];

    private static IEnumerable<Fact> Protection(FrameProtection? protection) =>
    [
        new("protection", protection is null ? "none" : $"profile {protection.Profile}"),
        new("data ID", protection is null ? "none" : Say.List(protection.Ids.Select(i => $"0x{i:X}"))) { Usual = "none" },
        new("bytes before the protection", $"{protection?.Offset ?? 0}") { Usual = "0" },
    ];

    private static IEnumerable<Fact> Base(byte[] bytes) => bytes.Select((b, i) => new Fact($"base byte {i}", b.ToString("X2")) { Usual = "00" });
}
