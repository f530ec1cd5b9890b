using System.Collections;
using System.Globalization;
using System.Reflection;
using System.Text;
using Locum.Text;

namespace Locum.Tests.Unit;

/// <summary>A model with everything in it as text, apart from places, for comparing.</summary>
internal static class ModelText
{
    // What depends on the text of a description, and not on its meaning.
    private static readonly string[] s_ofText = ["Hash", "Path", "EqualityContract"];

    public static string Of(object? value)
    {
        var text = new StringBuilder();
        Write(value, text, 0);
        return text.ToString();
    }

    private static void Write(object? value, StringBuilder text, int depth)
    {
        switch (value)
        {
            case null:
                text.Append("-\n");
                break;
            case Span:
                text.Append('\n');
                break;
            case string or Enum or bool or decimal:
            case IConvertible:
                text.Append(Convert.ToString(value, CultureInfo.InvariantCulture)).Append('\n');
                break;
            case IDictionary map:
                text.Append('\n');
                foreach (var key in map.Keys.Cast<object>().OrderBy(k => k.ToString(), StringComparer.Ordinal))
                    Named(key.ToString()!, map[key], text, depth);
                break;
            case IEnumerable list:
                text.Append('\n');
                foreach (var item in list)
                    Named("-", item, text, depth);
                break;
            default:
                text.Append(value.GetType().Name).Append('\n');
                foreach (var property in value.GetType().GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(p => p.CanWrite && !s_ofText.Contains(p.Name) && p.PropertyType != typeof(Span) && p.GetIndexParameters().Length is 0))
                    Named(property.Name, property.GetValue(value), text, depth);
                break;
        }
    }

    private static void Named(string name, object? value, StringBuilder text, int depth)
    {
        text.Append(' ', depth).Append(name).Append(": ");
        Write(value, text, depth + 1);
    }
}
