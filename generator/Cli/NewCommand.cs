using System.CommandLine;
using Locum.Binding;
using Locum.Boards;
using Locum.Diagnostics;
using Locum.Drafting;
using Locum.Model;
using Locum.Pipeline;
using Locum.Rendering;
using Locum.Wire;

namespace Locum.Cli;

/// <summary>locum new: a project to begin with.</summary>
internal static class NewCommand
{
    /// <summary>What a name is, for people.</summary>
    public const string NameWords = "a name starts with a letter, has letters, digits, blanks, '-', '_', '.', 48 at most; a module is not called 'project'";

    /// <summary>What an identifier is, for people.</summary>
    public const string IdWords = "an identifier is written 0x2D1, or 0x18F0A42B for 29 bits";

    public static Command Create(Terminal terminal)
    {
        var folder = new Argument<string>("folder") { Description = "A new or an empty folder." };
        var board = new Option<string?>("--board") { Description = "The kind of board; 'locum boards' lists them (avr-mcp2515)." };
        board.AcceptOnlyFromAmong([.. BoardCatalogue.Names]);
        var module = Name("--module", "Name of the module (the folder's).", NewQuestions.IsModule);
        var bus = Name("--bus", "Name of the bus (body).", Names.IsUsable);
        var rate = CommonOptions.Rate("Bit rate of the bus, such as '500 kbit/s' or 500k (500k).");
        var id = new Option<CanId?>("--id") { Description = "Identifier of a frame that the module sends (0x2D1); 29 bits above 0x7FF or with 8 digits.", CustomParser = ParseId };
        var wake = Name("--wake-line", "Input that wakes the module; without one it sends from power-on.", Names.IsUsable);
        var hazard = new Option<string?>("--hazard") { Description = $"What can hurt: {string.Join(", ", NewQuestions.Words)}." };
        hazard.AcceptOnlyFromAmong(NewQuestions.Words);
        var command = new Command("new", "Begins a project: a board, a module, a stimulus. Asks for what the options leave open when somebody is at the terminal.\nExample: locum new heater --board stm32f103-bxcan --wake-line run-line")
        {
            folder, board, module, bus, rate, id, wake, hazard,
        };
        command.SetAction(result => Run(terminal, new NewRequest(
            result.GetRequiredValue(folder), result.GetValue(board), result.GetValue(module), result.GetValue(bus),
            result.GetValue(rate), result.GetValue(id), result.GetValue(wake), result.GetValue(hazard))));
        return command;
    }

    private static Option<string?> Name(string name, string description, Func<string, bool> usable)
    {
        var option = new Option<string?>(name) { Description = description };
        option.Validators.Add(result =>
        {
            if (result.Tokens.Count is not 1 || !usable(result.Tokens[0].Value))
                result.AddError($"{name}: {NameWords}");
        });
        return option;
    }

    private static CanId? ParseId(System.CommandLine.Parsing.ArgumentResult result)
    {
        if (CommonOptions.Identifier(result.Tokens.Count is 1 ? result.Tokens[0].Value : "") is { } id)
            return id;
        result.AddError($"--id: {IdWords}");
        return null;
    }

    private static int Run(Terminal terminal, NewRequest request)
    {
        // Before anybody is asked anything.
        OutputFolder.RequireEmpty(request.Folder);
        var options = NewQuestions.Complete(request, terminal.Prompts());
        OutputFolder.Create(request.Folder, [
            new OutputFile("project.yaml", Starter.Project(options)),
            new OutputFile($"{options.Module}.yaml", Starter.Description(options)),
            new OutputFile($"{options.Module}.stimulus.yaml", Starter.Stimulus(options)),
            new OutputFile(".gitignore", "out/\n"),
        ]);
        Tell(terminal.Output, request.Folder, options);
        if (options.IsHazardous)
            foreach (var line in Cautions.For(NewQuestions.Class(options.Hazard)).SelectMany(c => CText.Wrap(c, Terminal.Width)))
                terminal.Error.WriteLine(line);
        return ExitCode.Fine;
    }

    private static void Tell(TextWriter output, string folder, StarterOptions options)
    {
        var path = Printable.Clean(folder);
        output.WriteLine($"project '{options.Project}' written to {path}: project.yaml, {options.Module}.yaml, {options.Module}.stimulus.yaml, .gitignore");
        if (options.IsHazardous)
        {
            output.WriteLine($"hazard class {options.Hazard}: 'acknowledge' in {options.Module}.yaml is empty");
            output.WriteLine("  'check' refuses the description until somebody fills it in");
        }
        output.WriteLine("next:");
        var argument = path.Contains(' ', StringComparison.Ordinal) ? $"\"{path}\"" : path;
        output.WriteLine($"  edit {options.Module}.yaml: identifiers, periods, bytes and fields are examples");
        output.WriteLine($"  locum check {argument}");
        output.WriteLine($"  locum simulate {argument}");
        output.WriteLine($"  locum all {argument} --out {(path.Contains(' ', StringComparison.Ordinal) ? $"\"{Path.Combine(path, "out")}\"" : Path.Combine(path, "out"))}");
    }
}
