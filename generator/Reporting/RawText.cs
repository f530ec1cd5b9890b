using System.Globalization;
using Locum.Model;

namespace Locum.Reporting;

/// <summary>Raw values of fields as people read them.</summary>
internal static class RawText
{
    public static string Number(decimal value) => value.ToString("0.############################", CultureInfo.InvariantCulture);

    /// <summary>A raw value as its name, or as the physical value with its unit.</summary>
    public static string Of(ulong raw, Field field)
    {
        var all = field.Bits is 64 ? 18_446_744_073_709_551_616m : 1UL << field.Bits;
        var value = field.Signed && raw >= all / 2 ? raw - all : raw;
        var names = field.Names.Where(n => n.Value == value).Select(n => n.Key).Order(StringComparer.Ordinal);
        return names.FirstOrDefault() is { } name ? $"{name} ({Number(value)})" : Physical(value, field);
    }

    /// <summary>A raw value with its sign as the physical one.</summary>
    public static string Physical(decimal raw, Field field)
    {
        try
        {
            return Number((raw * field.Scale) + field.Offset) + (field.Unit is null ? "" : $" {field.Unit}");
        }
        catch (OverflowException)
        {
            return $"raw {Number(raw)}";
        }
    }
}
