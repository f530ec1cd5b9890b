using System.Text;
using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>Random channels of one module on which testers are answered.</summary>
internal static class ChannelText
{
    private const int Most = 2;

    private static readonly string[] s_names = ["Prüfer", "work shop"];
    private static readonly int[] s_fdLengths = [8, 12, 16, 20, 24, 32, 48, 64];

    public static string Draw(Dice dice, World world, ModuleWorld module)
    {
        if (dice.Chance(60))
            return "";
        var channels = s_names.Take(dice.Between(1, Most)).Select(n => DrawOne(dice, world, n, dice.Pick(module.Buses))).ToList();
        world.Channels.AddRange(channels);
        return "diagnostics:\n" + string.Concat(channels.Select(c => Write(dice, module, c)));
    }

    private static DrawnChannel DrawOne(Dice dice, World world, string name, WorldBus bus)
    {
        var extended = dice.Chance(30);
        var fd = bus.DataRate is not null && dice.Chance(70);
        var identifiers = Enumerable.Range(0, dice.Chance(10) ? 0 : dice.Between(1, 3))
            .Select(i => new DrawnIdentifier((ushort)(0xF180 + (i * 5)), dice.Chance(30) ? dice.Between(1, 4) : dice.Between(5, dice.Chance(35) ? 128 : 40), dice.Chance(15) ? dice.Time(1, 200_000) : 0)).ToList();
        var after = dice.Chance(50) ? 0 : dice.Between(0, 9) switch
        {
            <= 3 => dice.Time(1, 5_000),
            <= 6 => dice.Time(1, 50_001),
            <= 8 => dice.Time(50_000, 200_000),
            _ => dice.Time(1_000_000, 12_000_000),
        };
        return new DrawnChannel(name, bus, Id(), dice.Chance(60) ? Id() : null, Id(), fd, fd ? dice.Pick(s_fdLengths) : 8, dice.Between(0, 3), after, identifiers);

        CanId Id()
        {
            while (true)
            {
                var id = new CanId((uint)(extended ? dice.Between(0, 0x1FFF_FFFF) : dice.Between(0, 0x7FF)), extended);
                if (bus.Ids.Add(id))
                    return id;
            }
        }
    }

    private static string Write(Dice dice, ModuleWorld module, DrawnChannel channel)
    {
        var text = new StringBuilder($"  {channel.Name}:\n");
        if (module.Buses.Count > 1 || dice.Chance(50))
            text.Append($"    bus: {channel.Bus.Name}\n");
        text.Append($"    id kind: {(channel.Request.Extended ? "29 bit" : "11 bit")}\n    request: 0x{channel.Request.Value:X}\n");
        if (channel.Functional is { } functional)
            text.Append($"    functional: 0x{functional.Value:X}\n");
        text.Append($"    response: 0x{channel.Response.Value:X}\n");
        if (channel.Fd)
            text.Append(dice.Pick("    format: fd\n", "    format: fd\n    switch rate: no\n")).Append($"    frame length: {channel.FrameLength}\n");
        if (dice.Chance(30))
            text.Append($"    in: [{string.Join(", ", dice.Some(module.Modes.Awake, 1).Append(dice.Pick(module.Modes.Sending)).Distinct())}]\n");
        if (dice.Chance(60))
            text.Append($"    padding: {dice.Pick("none", "0xCC", "0")}\n");
        text.Append($"    block size: {channel.BlockSize}\n    separation: {dice.Pick("0 ms", "300 us", "2 ms", "127 ms")}\n");
        if (channel.AfterUs > 0)
            text.Append($"    answer after: {dice.Text(channel.AfterUs)}\n");
        if (dice.Chance(60))
            text.Append($"    sessions: {dice.Pick("extended", "[default, extended]", "[default, programming, extended]", "programming")}\n");
        text.Append($"    reset: {dice.Pick("accept", "refuse")}\n    security: {dice.Pick("unknown", "denied")}\n    memory: {dice.Pick("none", "empty")}\n");
        if (channel.Identifiers.Count > 0)
            text.Append("    identifiers:\n");
        foreach (var identifier in channel.Identifiers)
            text.Append($"      0x{identifier.Number:X4}: {{{(dice.Chance(50) ? $"bytes: {dice.Row(identifier.Length)}" : $"text: \"{new string('D', identifier.Length)}\"")}{(identifier.AfterUs > 0 ? $", after: {identifier.AfterUs} us" : "")}}}\n");
        return text.ToString();
    }
}

/// <param name="Functional">Null: none.</param>
/// <param name="FrameLength">Bytes of the longest frame of an answer.</param>
internal sealed record DrawnChannel(string Name, WorldBus Bus, CanId Request, CanId? Functional, CanId Response, bool Fd, int FrameLength, int BlockSize, long AfterUs, IReadOnlyList<DrawnIdentifier> Identifiers)
{
    /// <summary>How long the slowest answer takes, µs.</summary>
    public long LongestUs => Identifiers.Select(i => i.AfterUs).Append(AfterUs).Max();
}

internal sealed record DrawnIdentifier(ushort Number, int Length, long AfterUs);
