using System.Text;
using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>Random nodes of SAE J1939 of one module; often with the address that frames of the module carry.</summary>
internal static class NodeText
{
    private const int MostAnswers = 5;

    private static readonly int[] s_protocol =
        [ParameterGroup.Acknowledgement, ParameterGroup.Request, ParameterGroup.Packets, ParameterGroup.Connection, ParameterGroup.AddressClaimed];

    public static string Draw(Dice dice, World world, ModuleWorld module, IReadOnlyList<DrawnFrame> frames, int percent)
    {
        if (!dice.Chance(percent))
            return "";
        var text = new StringBuilder("j1939:\n");
        for (var i = dice.Between(1, 2); i > 0; i--)
            text.Append(DrawOne(dice, world, module, frames, $"node {i}"));
        return text.ToString();
    }

    private static string DrawOne(Dice dice, World world, ModuleWorld module, IReadOnlyList<DrawnFrame> frames, string name)
    {
        var bus = dice.Pick(module.Buses);
        var address = Address(dice, bus, frames);
        var own = frames.Where(f => f.Bus == bus && f.Id.Extended && (byte)f.Id.Value == address).ToList();
        var value = dice.Chance(20) ? 0x8000_0000_0000_0000 | dice.Bits(63) : dice.Bits(63);
        var text = new StringBuilder($"  {name}:\n    bus: {bus.Name}\n    address: {address}\n");
        if (module.Modes.Text.Length > 0 && dice.Chance(30))
            text.Append($"    in: [{string.Join(", ", dice.Some(module.Modes.Awake, 1).Append(dice.Pick(module.Modes.Sending)).Distinct())}]\n");
        text.Append($"    name: {string.Join(' ', BitConverter.GetBytes(value).Select(b => $"{b:X2}"))}\n");
        if (dice.Chance(50))
            text.Append($"    spacing: {dice.Text(dice.Time(50_000, 200_000))}\n");
        var groups = new Dictionary<int, int>();
        var answers = new StringBuilder();
        foreach (var frame in own.DistinctBy(f => ParameterGroup.Of(f.Id)).Where(_ => dice.Chance(70)))
            if (!s_protocol.Contains(ParameterGroup.Of(frame.Id)) && groups.TryAdd(ParameterGroup.Of(frame.Id), 0))
                answers.Append($"      0x{ParameterGroup.Of(frame.Id):X}: {{frame: {frame.Name}}}\n");
        for (var i = dice.Between(0, MostAnswers); i > 0; i--)
        {
            var group = dice.Pick(0xFEEB, 0xFEDA, 0xEF00, 0x1FF00 | dice.Between(0, 255), dice.Between(0, 3) << 16 | dice.Between(0, 0xE7) << 8);
            var length = dice.Between(0, 9) switch
            {
                < 4 => dice.Between(1, 8),
                < 8 => dice.Between(9, 30),
                8 => dice.Pick(8, 9, 14, 15),
                _ => dice.Between(30, 1_785),
            };
            if (own.All(f => ParameterGroup.Of(f.Id) != group) && groups.Values.Sum() + length <= 4_096 && groups.TryAdd(group, length))
                answers.Append($"      0x{group:X}: {{bytes: {dice.Row(length)}}}\n");
        }
        if (groups.Count > 0)
            text.Append("    answers:\n").Append(answers);
        world.Nodes.Add(new DrawnNode(bus, address, value, [.. groups.Keys]));
        bus.Ids.Add(ParameterGroup.To(ParameterGroup.AddressClaimed, 255, address));
        return text.ToString();
    }

    // An address that is free on the bus, and that makes no described frame part of the protocol.
    private static byte Address(Dice dice, WorldBus bus, IReadOnlyList<DrawnFrame> frames)
    {
        while (true)
        {
            var carried = frames.Where(f => f.Bus == bus && f.Id.Extended).Select(f => (byte)f.Id.Value).Where(a => a <= 253).ToList();
            var address = carried.Count > 0 && dice.Chance(80) ? dice.Pick(carried) : (byte)dice.Between(0, 253);
            if (frames.All(f => f.Bus != bus || (byte)f.Id.Value != address || !s_protocol.Contains(ParameterGroup.Of(f.Id))) && bus.Addresses.Add(address))
                return address;
        }
    }
}

/// <param name="Groups">Parameter groups with an answer.</param>
internal sealed record DrawnNode(WorldBus Bus, byte Address, ulong Name, IReadOnlyList<int> Groups);
