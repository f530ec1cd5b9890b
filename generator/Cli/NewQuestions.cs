using Locum.Binding;
using Locum.Boards;
using Locum.Drafting;
using Locum.Model;
using Locum.Wire;
using Spectre.Console;

namespace Locum.Cli;

/// <summary>Completes a request for a new project: asks somebody, or takes the defaults.</summary>
internal static class NewQuestions
{
    private const string DefaultBoard = "avr-mcp2515";
    private const string DefaultBus = "body";
    private const int DefaultRate = 500_000;

    private static readonly CanId s_defaultId = new(0x2D1, false);

    /// <summary>The whole request.</summary>
    /// <param name="request">What the command line says.</param>
    /// <param name="console">Asks for the rest; null for defaults.</param>
    public static StarterOptions Complete(NewRequest request, IAnsiConsole? console)
    {
        var project = DraftNames.Usable(Path.GetFileName(Path.TrimEndingDirectorySeparator(Path.GetFullPath(request.Folder))), "project");
        var named = IsModule(project) ? project : "module";
        return new StarterOptions
        {
            Project = project,
            Module = request.Module ?? Name(console, "Name of the module", named, IsModule),
            Board = request.Board ?? Choose(console, "Board", DefaultBoard, [.. BoardCatalogue.Names], n => $"{n}: {BoardCatalogue.Find(n)!.Summary}"),
            Bus = request.Bus ?? Name(console, "Bus it is on", DefaultBus, Names.IsUsable),
            Rate = request.Rate ?? Rate(console),
            Id = request.Id ?? Identifier(console),
            WakeLine = request.WakeLine ?? WakeLine(console),
            Hazard = request.Hazard ?? Choose(console, "What can hurt (hazard class)", Words[0], Words, w => w),
        };
    }

    /// <summary>The words of the hazard classes, "none" first.</summary>
    public static string[] Words { get; } = [.. Enum.GetValues<Hazard>().Select(Cautions.Word)];

    /// <summary>The class behind a word.</summary>
    public static Hazard Class(string word) => Enum.GetValues<Hazard>().Single(h => Cautions.Word(h) == word);

    /// <summary>True for a name whose files do not get in the project's way.</summary>
    public static bool IsModule(string name) => Names.IsUsable(name) && !name.Equals("project", StringComparison.OrdinalIgnoreCase);

    private static string Choose(IAnsiConsole? console, string title, string preferred, string[] words, Func<string, string> describe) =>
        console is null ? preferred : console.Prompt(new SelectionPrompt<string>()
            .Title($"{title}?")
            .UseConverter(w => Markup.Escape(describe(w)))
            .AddChoices([preferred, .. words.Where(w => w != preferred)]));

    private static string Name(IAnsiConsole? console, string question, string preferred, Func<string, bool> usable) =>
        console is null ? preferred : console.Prompt(new TextPrompt<string>($"{question}?")
            .DefaultValue(preferred)
            .Validate(n => usable(n) ? ValidationResult.Success() : ValidationResult.Error(NewCommand.NameWords)));

    private static int Rate(IAnsiConsole? console) =>
        console is null ? DefaultRate : CommonOptions.BitRate(console.Prompt(new TextPrompt<string>("Bit rate?")
            .DefaultValue(DraftWords.Rate(DefaultRate))
            .Validate(t => CommonOptions.BitRate(t) is null ? ValidationResult.Error(CommonOptions.RateWords) : ValidationResult.Success())))!.Value;

    private static CanId Identifier(IAnsiConsole? console) =>
        console is null ? s_defaultId : CommonOptions.Identifier(console.Prompt(new TextPrompt<string>("Identifier of a frame it sends?")
            .DefaultValue(s_defaultId.ToString())
            .Validate(t => CommonOptions.Identifier(t) is null ? ValidationResult.Error(NewCommand.IdWords) : ValidationResult.Success())))!.Value;

    private static string? WakeLine(IAnsiConsole? console)
    {
        var name = console?.Prompt(new TextPrompt<string>("Line that wakes it (nothing: it sends from power-on)?")
            .AllowEmpty()
            .Validate(n => n.Length is 0 || Names.IsUsable(n) ? ValidationResult.Success() : ValidationResult.Error(NewCommand.NameWords)));
        return string.IsNullOrEmpty(name) ? null : name;
    }
}
