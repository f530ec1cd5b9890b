using System.Globalization;

namespace Locum.Tests.Firmware;

/// <summary>What a linked firmware occupies, as the cross tools' "size" counts.</summary>
/// <param name="Flash">Code, tables and initial values, bytes.</param>
/// <param name="StaticRam">Variables, bytes; a reserved stack is not among them.</param>
internal sealed record FirmwareSize(int Flash, int StaticRam)
{
    /// <param name="prefix">Of the cross tools, such as "avr-".</param>
    public static FirmwareSize Of(string prefix, string elf)
    {
        var columns = Shell.Must($"{prefix}size", [elf]).Split('\n')[1].Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        var (text, data, bss) = (Number(columns[0]), Number(columns[1]), Number(columns[2]));
        var stack = Shell.Must($"{prefix}size", ["-A", elf]).Split('\n')
            .Where(l => l.StartsWith(".stack ", StringComparison.Ordinal))
            .Sum(l => Number(l.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)[1]));
        return new FirmwareSize(text + data, data + bss - stack);
    }

    private static int Number(string text) => int.Parse(text, CultureInfo.InvariantCulture);
}
