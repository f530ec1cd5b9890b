using System.Text.Encodings.Web;
using System.Text.Json;

namespace Locum.Reporting;

/// <summary>How JSON is written everywhere: indented, "\n", everything but plain ASCII escaped so that it is harmless on a terminal.</summary>
internal static class JsonStyle
{
    public static JsonWriterOptions Options { get; } = new()
    {
        Indented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.Default,
    };

    /// <summary>Unpaired surrogates, which JSON text in UTF-8 cannot carry, become U+FFFD.</summary>
    public static string WellFormed(string text) => string.Concat(text.EnumerateRunes());
}
