using System.CommandLine;
using System.Text;
using Locum.Capture;
using Locum.Diagnostics;
using Locum.Drafting;
using Locum.Inference;
using Locum.Model;
using Locum.Rendering;

namespace Locum.Cli;

/// <summary>locum draft: a description from captures with the module in.</summary>
internal static class DraftCommand
{
    public static Command Create(Terminal terminal)
    {
        var paths = CaptureInput.Paths();
        var layout = CaptureInput.Layout();
        var ids = new Option<string[]>("--id") { Description = "An identifier the module sends, such as 0x2D1; 29 bits above 0x7FF or with 8 digits. Default: all, or those missing in --without.", AllowMultipleArgumentsPerToken = true };
        var buses = new Option<string[]>("--bus") { Description = "Only identifiers on this bus.", AllowMultipleArgumentsPerToken = true };
        var without = new Option<string[]>("--without") { Description = "Captures without the module: what they hold, it does not send.", AllowMultipleArgumentsPerToken = true };
        var rate = CommonOptions.Rate("Bit rate of the buses, such as '500 kbit/s' or 500k; no capture holds it.");
        var output = new Option<string?>("--out") { Description = "Write the description to this file and the summary to standard output. Without it the description goes there." };
        var format = CommonOptions.Choice("--format", "How the summary is written", "text", "json");
        var command = new Command("draft", "Drafts a description from captures with the module in; every line carries its evidence.\nExample: locum draft in-1.pcapng in-2.pcapng --without out.pcapng --out heater.yaml")
        {
            paths, layout, ids, buses, without, rate, output, format,
        };
        command.SetAction(result => Run(terminal, new DraftRequest(
            result.GetRequiredValue(paths), result.GetValue(layout), result.GetValue(ids) ?? [], result.GetValue(buses) ?? [], result.GetValue(without) ?? [],
            result.GetValue(rate), result.GetValue(output), result.GetRequiredValue(format))));
        return command;
    }

    private static int Run(Terminal terminal, DraftRequest request)
    {
        if (CaptureInput.Load(terminal, request.Captures, request.Layout) is not { } captures)
            return ExitCode.Unusable;
        var without = request.Without.Length is 0 ? [] : CaptureInput.Load(terminal, request.Without, request.Layout);
        if (without is null)
            return ExitCode.Unusable;
        var recording = JoinedRecording.Of([.. captures.Select(c => c.Recording)]);
        if (Selection.Choose(recording, [.. without.Select(c => c.Recording)], request, terminal.Error) is not { } chosen)
            return ExitCode.Unusable;
        var draft = Drafter.Write(ModuleInference.Find(recording, chosen, request.Rate), new DraftOptions
        {
            Name = DraftNames.Usable(Path.GetFileNameWithoutExtension(request.Output ?? "draft"), "module"),
            Source = string.Join(", ", captures.Select(c => Path.GetFileName(c.Path))),
            Rate = request.Rate,
        });
        Tell(terminal, draft, request);
        return draft.Text is null ? ExitCode.Findings : ExitCode.Fine;
    }

    private static void Tell(Terminal terminal, Draft draft, DraftRequest request)
    {
        if (request.Output is { } path && draft.Text is { } text)
            Files.WriteAtomically(path, stream => stream.Write(Encoding.UTF8.GetBytes(text)));
        if (request.Format is "json")
            DraftJson.Write(terminal.Stream, draft, request.Output is null);
        else if (request.Output is not null)
            DraftText.Write(terminal.Output, draft);
        else if (draft.Text is not null)
            terminal.Output.Write(draft.Text);
        terminal.Stream.Flush();
        if (request is { Format: "text", Output: null })
            DraftText.Write(terminal.Error, draft);
        terminal.Error.WriteLine("CAUTION: 'hazard: none' is a placeholder. Decide before anything else:");
        foreach (var hazard in Enum.GetValues<Hazard>())
            foreach (string line in CText.Wrap($"{Cautions.Word(hazard)}: {Cautions.For(hazard)[0]}", Terminal.Width - 2))
                terminal.Error.WriteLine($"  {line}");
        if (draft.Text is null)
            terminal.Error.WriteLine("locum: no frame could be described\n  mend: see what is still unexplained");
        else if (request.Output is not null)
            terminal.Error.WriteLine($"description written to {Printable.Clean(request.Output)}");
    }
}
