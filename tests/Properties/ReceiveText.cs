using System.Text;
using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>Random received frames of one module.</summary>
internal static class ReceiveText
{
    private const int MostFields = 3;

    public static List<DrawnReceive> Draw(Dice dice, World world, IReadOnlyList<WorldBus> buses)
    {
        string[] names = ["Drive.Speed", "Türen", "x-9"];
        var drawn = dice.Chance(35) ? [] : names.Take(dice.Between(1, names.Length)).Select(n => DrawOne(dice, world, n, dice.Pick(buses))).ToList();
        world.Heard.AddRange(drawn);
        return drawn;
    }

    public static string Write(Dice dice, IReadOnlyList<DrawnReceive> drawn, bool nameBus)
    {
        if (drawn.Count is 0)
            return "";
        var text = new StringBuilder("receives:\n");
        foreach (var received in drawn)
        {
            text.Append($"  {received.Name}:\n");
            if (nameBus || dice.Chance(50))
                text.Append($"    bus: {received.Bus.Name}\n");
            text.Append(received.Any ? "    id: any\n" : $"    id: 0x{received.Id.Value:X}\n");
            text.Append($"    id kind: {(received.Id.Extended ? "29 bit" : "11 bit")}\n");
            if (!received.Any && (received.Mask != received.Id.Whole() || dice.Chance(30)))
                text.Append($"    mask: 0x{received.Mask:X}\n");
            if (received.TimeoutUs is { } timeout)
                text.Append($"    timeout: {dice.Text(timeout)}\n");
            if (received.Fields.Count > 0)
                text.Append("    fields:\n").Append(string.Concat(received.Fields.Select(f => $"      {f.Name}: {f.Text}\n")));
        }
        return text.ToString();
    }

    private static DrawnReceive DrawOne(Dice dice, World world, string name, WorldBus bus)
    {
        var any = dice.Chance(15);
        var id = any ? new CanId(0, dice.Chance(40)) : world.NewId(dice, bus);
        var mask = any ? 0 : dice.Chance(70) ? id.Whole() : id.Whole() & ~(uint)(1 << dice.Between(0, 10) | 1 << dice.Between(0, 10));
        var bytes = dice.Chance(20) ? 0 : bus.DataRate is not null && dice.Chance(50) ? 64 : dice.Between(1, 8);
        var fields = Enumerable.Range(1, bytes is 0 ? 0 : dice.Between(1, MostFields)).Select(i => ReceivedField.Draw(dice, bytes, $"{dice.Pick("speed", "Öl", "a b")} {i}")).ToList();
        return new DrawnReceive(name, bus, id, mask, any, dice.Chance(80) ? world.Pace * dice.Time(1_000, 80_000) : null, fields);
    }

    private static uint Whole(this CanId id) => id.Extended ? CanId.MaxExtended : CanId.MaxStandard;
}

/// <param name="Any">Written as "id: any".</param>
internal sealed record DrawnReceive(string Name, WorldBus Bus, CanId Id, uint Mask, bool Any, long? TimeoutUs, IReadOnlyList<ReceivedField> Fields)
{
    /// <summary>Bytes that hold all fields.</summary>
    public int Length => Fields.SelectMany(f => f.Positions).Select(p => (p / 8) + 1).DefaultIfEmpty(0).Max();
}

/// <summary>A received field; conditions compare it with its limit.</summary>
/// <param name="Limit">A raw value.</param>
internal sealed record ReceivedField(string Name, int Bits, bool Signed, decimal Scale, decimal Offset, IReadOnlyList<int> Positions, long Limit, string Text)
{
    public static ReceivedField Draw(Dice dice, int bytes, string name)
    {
        while (true)
        {
            var bits = dice.Chance(70) ? dice.Between(1, 12) : dice.Between(1, 32);
            var big = dice.Chance(40);
            var bit = dice.Between(0, (bytes * 8) - 1);
            var positions = FieldText.Positions(bit, bits, big).ToList();
            if (positions.Exists(p => p < 0 || p >= bytes * 8))
                continue;
            var signed = dice.Chance(40);
            var (scale, offset) = dice.Chance(50) ? (1m, 0m) : (dice.Pick(0.05m, 0.5m, 0.1m, 2m, -0.25m), dice.Pick(0m, -40m, 12.5m));
            var text = $"{{bit: {bit}, bits: {bits}{(big ? ", order: big" : "")}{(signed ? ", signed: yes" : "")}{(scale is 1 ? "" : $", scale: {FieldText.Number(scale)}, offset: {FieldText.Number(offset)}")}}}";
            // The ends of the range are where comparisons become trivial.
            var limit = dice.Pick((long)dice.Bits(bits), (long)dice.Bits(bits), 0L, (1L << bits) - 1, 1L << (bits - 1), (1L << (bits - 1)) - 1);
            if (signed && limit >= 1L << (bits - 1))
                limit -= 1L << bits;
            return new ReceivedField(name, bits, signed, scale, offset, positions, limit, text);
        }
    }

    public string Physical(long raw) => FieldText.Number((raw * Scale) + Offset);
}
