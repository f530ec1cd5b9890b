using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Binding;

/// <summary>Syntax → project. Module files are read through a function of the caller.</summary>
public static class ProjectBinder
{
    public const int MostBoards = 64;
    public const int MostModules = 64;

    /// <param name="loadModule">Reads a module by its path beside the project file; null (and findings) when unusable.</param>
    public static Project? Bind(SourceText source, SyntaxNode root, Func<string, Span, Module?> loadModule, DiagnosticBag diagnostics)
    {
        var reader = new MappingReader(root, diagnostics, "a project");
        if (root is not MappingNode)
            return null;
        ModuleBinder.CheckVersion(reader, "locum", diagnostics);
        var nameNode = reader.Required("project", "name the project: 'project: depot-loco'");
        var name = nameNode is ScalarNode scalar ? Scalars.Name(scalar, diagnostics, "a project") : Scalars.Text(nameNode, diagnostics, "the project's name");
        var summary = Scalars.Text(reader.Optional("summary"), diagnostics, "the summary") ?? "";
        var entries = reader.Named("boards", "boards");
        if (entries.Count is 0)
            diagnostics.Add(Codes.MissingKey, reader.SpanOf("boards").First(), "a project needs at least one board", "put at least one module on a board under 'boards:'");
        if (entries.Count > MostBoards)
            diagnostics.Add(Codes.TooMany, entries[MostBoards].Key.Span, $"a project has at most {MostBoards} boards", "split the project in two");
        var boards = entries.Take(MostBoards).Select(e => BindBoard(e, source.Path, loadModule, diagnostics)).OfType<BoardUse>().ToList();
        reader.Done();
        return new Project(name ?? "unnamed", summary, boards, source.Path);
    }

    private static BoardUse? BindBoard(MappingEntry entry, string projectPath, Func<string, Span, Module?> loadModule, DiagnosticBag diagnostics)
    {
        var reader = new MappingReader(entry.Value, diagnostics, "a board");
        if (entry.Value is not MappingNode)
            return null;
        var name = Scalars.Name(entry.Key, diagnostics, "a board") ?? entry.Key.Value;
        if (name.Contains(' ', StringComparison.Ordinal))
            diagnostics.Add(Codes.BadName, entry.Key.Span, $"'{name}' is also a folder name and cannot have spaces", "join the words with '-'");
        var kindNode = reader.Required("board", "name the kind of board; 'locum boards' lists them");
        var kind = Scalars.Text(kindNode, diagnostics, "the kind of board") ?? "";
        var modules = new List<Module>();
        var files = reader.Required("modules", "list the description files that run on this board") switch
        {
            null => [],
            SequenceNode list => list.Items,
            var one => [one],
        };
        if (files.Count > MostModules)
            diagnostics.Add(Codes.TooMany, files[MostModules].Span, $"a board runs at most {MostModules} modules", "use a second board");
        foreach (var item in files.Take(MostModules))
            if (Scalars.Text(item, diagnostics, "a description file") is { } path && loadModule(path, item.Span) is { } module)
                modules.Add(module);
        if (reader.Has("modules") && files.Count is 0)
            diagnostics.Add(Codes.MissingKey, reader.SpanOf("modules"), "the board has no module", "list at least one description file");
        var buses = Settings(reader, "buses", diagnostics);
        var inputs = Settings(reader, "inputs", diagnostics);
        var outputs = Settings(reader, "outputs", diagnostics);
        var ledNode = reader.Optional("led");
        var led = Scalars.Text(ledNode, diagnostics, "the LED's pin") is { } pin ? new Setting(pin, ledNode!.Span) : null;
        var bootloader = Scalars.Word(reader.Optional("bootloader"), diagnostics, "answer", WordTables.YesNo) ?? false;
        var stimulus = Scalars.Text(reader.Optional("stimulus"), diagnostics, "the stimulus file");
        var guards = GuardBinder.Bind(reader, diagnostics);
        reader.Done();
        return new BoardUse
        {
            Name = name,
            Kind = kind,
            KindSpan = kindNode?.Span ?? entry.Key.Span,
            Modules = modules,
            BusSettings = buses,
            InputSettings = inputs,
            OutputSettings = outputs,
            Led = led,
            Guards = guards,
            Bootloader = bootloader,
            StimulusPath = stimulus is null ? null : Path.Combine(Path.GetDirectoryName(projectPath) ?? "", stimulus),
            Span = entry.Key.Span,
        };
    }

    // A bare word stands for the pin: "run-line: A0" is "run-line: {pin: A0}".
    private static Dictionary<string, IReadOnlyDictionary<string, Setting>> Settings(MappingReader reader, string key, DiagnosticBag diagnostics)
    {
        var all = new Dictionary<string, IReadOnlyDictionary<string, Setting>>(StringComparer.Ordinal);
        foreach (var (name, value) in reader.Named(key, "settings"))
        {
            var settings = new Dictionary<string, Setting>(StringComparer.Ordinal);
            if (value is ScalarNode pin)
                settings["pin"] = new Setting(pin.Value, pin.Span);
            else if (value is MappingNode mapping)
                foreach (var (setting, node) in mapping.Entries)
                    settings[setting.Value] = new Setting(Scalars.Text(node, diagnostics, "a setting") ?? "", node.Span);
            else
                diagnostics.Add(Codes.WrongShape, value.Span, $"settings are a mapping, this is {value.Kind}", "write {pin: A0, pull: up}");
            all[name.Value] = settings;
        }
        return all;
    }
}
