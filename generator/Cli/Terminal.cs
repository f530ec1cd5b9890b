using Locum.Diagnostics;
using Locum.Reporting;
using Locum.Text;
using Spectre.Console;

namespace Locum.Cli;

/// <summary>Where a command writes: results to standard output, messages to standard error.</summary>
/// <param name="output">Results.</param>
/// <param name="error">Messages.</param>
/// <param name="stream">The bytes behind <paramref name="output"/>, for binary formats.</param>
/// <param name="outputIsTerminal">Results are read by a person at a terminal.</param>
/// <param name="errorIsTerminal">Messages are.</param>
/// <param name="prompts">Makes the console that asks somebody; null when nobody is there.</param>
internal sealed class Terminal(TextWriter output, TextWriter error, Stream stream, bool outputIsTerminal, bool errorIsTerminal, Func<IAnsiConsole>? prompts = null)
{
    public const int Width = 80;

    public TextWriter Output { get; } = output;

    public TextWriter Error { get; } = error;

    public Stream Stream { get; } = stream;

    public bool OutputIsTerminal { get; } = outputIsTerminal;

    /// <summary>The process's own streams; NO_COLOR is respected through <see cref="Colours"/>.</summary>
    public static Terminal OfProcess() => new(Console.Out, Console.Error, Console.OpenStandardOutput(), !Console.IsOutputRedirected, !Console.IsErrorRedirected,
        Console.IsInputRedirected || Console.IsOutputRedirected ? null : () => AnsiConsole.Create(new AnsiConsoleSettings
        {
            ColorSystem = Colours ? ColorSystemSupport.Detect : ColorSystemSupport.NoColors,
        }));

    /// <summary>A console that asks somebody; null when nobody is there.</summary>
    public IAnsiConsole? Prompts() => prompts?.Invoke();

    private static bool Colours => string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR"));

    /// <summary>A console for tables: 80 columns, no colour unless at a terminal.</summary>
    public IAnsiConsole Tables()
    {
        var colour = OutputIsTerminal && Colours;
        var console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = colour ? AnsiSupport.Yes : AnsiSupport.No,
            ColorSystem = colour ? ColorSystemSupport.Standard : ColorSystemSupport.NoColors,
            Interactive = InteractionSupport.No,
            Out = new AnsiConsoleOutput(Output),
        });
        console.Profile.Width = Width;
        return console;
    }

    /// <summary>True when long work may show how far it is.</summary>
    public bool ShowsProgress => errorIsTerminal;

    /// <summary>Replaces the line that shows how far long work is; empty to take it away. Nothing unless at a terminal.</summary>
    public void ShowProgress(string text)
    {
        if (!errorIsTerminal)
            return;
        Error.Write($"\r{text.PadRight(Width - 1)}\r{text}");
        Error.Flush();
    }

    /// <summary>Findings as messages, with excerpts at a terminal.</summary>
    public void Report(IReadOnlyList<Diagnostic> diagnostics, IReadOnlyDictionary<string, SourceText> sources)
    {
        if (diagnostics.Count > 0)
            DiagnosticText.Write(Error, diagnostics, sources, errorIsTerminal, errorIsTerminal && Colours);
    }

    /// <summary>Findings as a command's result.</summary>
    public void Print(IReadOnlyList<Diagnostic> diagnostics, IReadOnlyDictionary<string, SourceText> sources) =>
        DiagnosticText.Write(Output, diagnostics, sources, OutputIsTerminal, OutputIsTerminal && Colours);
}
