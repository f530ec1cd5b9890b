using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>Random traffic around a node: requests, claims of its address, receivers that keep to the protocol and some that do not.</summary>
internal static class NodeTrafficText
{
    private const int MostRequests = 8;
    private const byte Asker = 0xF9;

    public static IEnumerable<string> Draw(Dice dice, World world, DrawnNode node, long end)
    {
        for (var i = dice.Between(0, MostRequests); i > 0; i--)
            yield return At(dice, Request(dice, node), Number(Group(dice, node)) + (dice.Chance(20) ? " FF FF FF FF FF" : ""), dice.Between(0, end));
        // Several at once meet in the mailboxes.
        var burst = dice.Between(0, end);
        for (var i = dice.Chance(40) ? dice.Between(2, 6) : 0; i > 0; i--)
            yield return At(dice, Request(dice, node), Number(Group(dice, node)), burst + dice.Between(0, 3_000));
        for (var i = dice.Chance(40) ? dice.Between(1, 4) : 0; i > 0; i--)
            yield return At(dice, ParameterGroup.To(ParameterGroup.AddressClaimed, 255, node.Address, Priority(dice)), Name(dice, node), dice.Chance(60) ? dice.Between(0, end) : dice.Between(0, 300_000));
        if (node.Groups.Count is 0)
            yield break;
        for (var i = dice.Between(0, 2); i > 0; i--)
            yield return $"{{id: 0x{ParameterGroup.To(ParameterGroup.Connection, node.Address, Who(dice), 7).Value:X}, id kind: 29 bit, every: {world.Pace * dice.Time(900, 40_000)} us, "
                + $"offset: {dice.Between(0, Math.Min(end, 200_000))} us, data: {Receiver(dice, node)}, changes: [{string.Join(", ", Changes(dice, node, end))}]}}";
    }

    private static IEnumerable<string> Changes(Dice dice, DrawnNode node, long end)
    {
        var at = 1L;
        for (var i = dice.Between(1, 12); i > 0; i--)
        {
            at += dice.Between(1, Math.Max(1, end / 8));
            yield return $"{{at: {at} us, data: {Receiver(dice, node)}}}";
        }
    }

    private static string At(Dice dice, CanId id, string data, long at) =>
        $"{{id: 0x{id.Value:X}, id kind: 29 bit, at: {at} us, data: {(dice.Chance(4) ? data[..Math.Max(2, data.Length - 3)] : data)}}}";

    private static CanId Request(Dice dice, DrawnNode node) =>
        ParameterGroup.To(ParameterGroup.Request, dice.Chance(60) ? node.Address : (byte)255, Who(dice), Priority(dice));

    private static int Group(Dice dice, DrawnNode node) => node.Groups.Count > 0 && dice.Chance(70) ? dice.Pick(node.Groups)
        : dice.Pick(ParameterGroup.AddressClaimed, ParameterGroup.AddressClaimed, 0xFEE5, dice.Between(0, 0xFFFFFF));

    private static string Receiver(Dice dice, DrawnNode node) => dice.Between(0, 9) switch
    {
        < 7 => $"11 {dice.Between(0, 3):X2} {dice.Between(0, 4):X2} FF FF {Number(dice.Pick(node.Groups))}",
        7 => $"13 14 00 03 FF {Number(dice.Pick(node.Groups))}",
        8 => $"FF 01 FF FF FF {Number(dice.Pick(node.Groups))}",
        _ => dice.Row(8),
    };

    // The NAMEs next to the node's own are where the comparison turns.
    private static string Name(Dice dice, DrawnNode node) => string.Join(' ', BitConverter.GetBytes(dice.Pick(
        node.Name, node.Name + 1, node.Name - 1, node.Name ^ (1UL << dice.Between(0, 63)), ulong.MaxValue, node.Name | 1UL << 63, dice.Bits(64))).Select(b => $"{b:X2}"));

    private static string Number(int group) => $"{(byte)group:X2} {(byte)(group >> 8):X2} {(byte)(group >> 16):X2}";

    private static byte Who(Dice dice) => dice.Chance(80) ? Asker : dice.Pick<byte>(0xF8, 254, 255, 0);

    private static int Priority(Dice dice) => dice.Chance(80) ? 6 : dice.Between(0, 7);
}
