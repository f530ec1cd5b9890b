using Locum.Binding;
using Locum.Budgeting;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Cli;

/// <summary>Writes better offsets into descriptions: all of them, or none when one would be wrong.</summary>
internal static class OffsetWriter
{
    public static bool Write(Terminal terminal, Session session, IReadOnlyList<BusBudget> buses)
    {
        var texts = new Dictionary<string, SourceText>(StringComparer.Ordinal);
        var changes = buses.SelectMany(b => b.Groups).SelectMany(g => g.Changes).GroupBy(c => c.Frame.Owner.Module.Path);
        foreach (var file in changes)
        {
            var source = session.Loaded.Sources[file.Key];
            if (OffsetEdit.Apply(source, file.ToDictionary(c => c.Frame.Frame.Name, c => c.OffsetUs, StringComparer.Ordinal)) is not { } text)
            {
                terminal.Error.WriteLine($"locum: the offsets of '{Printable.Clean(file.Key)}' cannot be written");
                terminal.Error.WriteLine("  mend: write them by hand; nothing was changed");
                return false;
            }
            texts[file.Key] = new SourceText(file.Key, text);
        }
        if (texts.Count is 0)
        {
            terminal.Error.WriteLine("locum: no better offsets were found; nothing was written");
            return true;
        }
        if (!IsSound(terminal, session, texts, [.. changes.SelectMany(c => c)]))
            return false;
        foreach (var (path, text) in texts)
        {
            Files.Replace(path, text.Text);
            terminal.Error.WriteLine($"{Printable.Clean(path)}: offsets written");
        }
        return true;
    }

    // What is written is read again: the offsets are the wanted ones, and boards still hold.
    private static bool IsSound(Terminal terminal, Session session, Dictionary<string, SourceText> texts, IReadOnlyList<(PlannedFrame Frame, long OffsetUs)> changes)
    {
        var diagnostics = new DiagnosticBag();
        var modules = texts.ToDictionary(t => t.Key, t => SyntaxReader.Read(t.Value, diagnostics) is { } root ? ModuleBinder.Bind(t.Value, root, diagnostics) : null, StringComparer.Ordinal);
        foreach (var use in session.Loaded.Project!.Boards)
            BoardPlanner.Plan(use with { Modules = [.. use.Modules.Select(m => modules.GetValueOrDefault(m.Path) ?? m)] }, diagnostics);
        if (!diagnostics.HasErrors && changes.All(c => Frame(modules[c.Frame.Owner.Module.Path], c.Frame)?.OffsetUs == c.OffsetUs))
            return true;
        terminal.Error.WriteLine("locum: with the better offsets the boards do not hold; nothing was changed");
        terminal.Report([.. diagnostics.Sorted.Where(d => d.Severity is Severity.Error)], texts);
        return false;
    }

    private static Frame? Frame(Module? module, PlannedFrame planned) => module?.Frames.FirstOrDefault(f => f.Name == planned.Frame.Name);
}
