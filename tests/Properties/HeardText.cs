using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>Random traffic that a module listens to: changing values around the limits, too-short frames, silences about as long as the timeout.</summary>
internal static class HeardText
{
    private const int MostChanges = 6;

    public static string Draw(Dice dice, World world, DrawnReceive heard, long end)
    {
        var whole = heard.Id.Extended ? CanId.MaxExtended : CanId.MaxStandard;
        // Bits that the mask leaves open are anything; now and then one that it does not.
        var id = (heard.Id.Value & heard.Mask) | ((uint)dice.Bits(29) & whole & ~heard.Mask);
        if (dice.Chance(5))
            id ^= 1;
        var fd = heard.Bus.DataRate is not null && (heard.Length > 8 || dice.Chance(50));
        var format = !fd ? "" : dice.Chance(50) ? ", format: fd" : ", format: fd, switch rate: no";
        var period = Period(dice, world, heard);
        var until = dice.Chance(40) ? $", until: {dice.Between(1, end)} us" : "";
        var changes = new List<string>();
        var at = 0L;
        for (var i = dice.Between(0, world.LeastUs > 0 ? MostChanges * 4 : MostChanges); i > 0; i--)
        {
            at += Math.Max(1, dice.Chance(50) ? dice.Between(1, end / 4) : period * dice.Between(1, 3));
            changes.Add($"{{at: {at} us, data: {Data(dice, heard, fd)}}}");
        }
        return $"{{id: 0x{id:X}, id kind: {(heard.Id.Extended ? "29 bit" : "11 bit")}{format}, every: {period} us, offset: {dice.Between(0, Math.Min(end, 40_000 * world.Pace))} us, data: {Data(dice, heard, fd)}{until}{(changes.Count is 0 ? "" : $", changes: [{string.Join(", ", changes)}]")}}}";
    }

    private static long Period(Dice dice, World world, DrawnReceive heard)
    {
        if (heard.TimeoutUs is not { } timeout || dice.Chance(40))
            return world.Pace * dice.Time(700, 60_000);
        return Math.Max(700, dice.Between(0, 4) switch
        {
            0 => timeout - 1,
            1 => timeout,
            2 => timeout + 1,
            3 => timeout / 3,
            _ => timeout * 3 / 2,
        });
    }

    private static string Data(Dice dice, DrawnReceive heard, bool fd)
    {
        int[] lengths = fd ? [0, 1, 2, 3, 4, 5, 6, 7, 8, 12, 16, 20, 24, 32, 48, 64] : [0, 1, 2, 3, 4, 5, 6, 7, 8];
        var enough = lengths.Where(l => l >= heard.Length).ToList();
        var length = dice.Chance(12) || enough.Count is 0 ? dice.Pick(lengths) : dice.Pick(enough);
        var data = new byte[length];
        for (var i = 0; i < length; i++)
            data[i] = (byte)dice.Bits(8);
        foreach (var field in heard.Fields.Where(_ => dice.Chance(60)))
        {
            var raw = field.Limit + dice.Between(-1, 1);
            for (var i = 0; i < field.Bits; i++)
            {
                var at = field.Positions[i];
                if (at < length * 8)
                    data[at / 8] = (byte)((data[at / 8] & ~(1 << (at % 8))) | ((int)(raw >> i & 1) << (at % 8)));
            }
        }
        return string.Join(' ', data.Select(b => $"{b:X2}"));
    }
}
