using System.Collections.Concurrent;
using System.Text;
using System.Text.RegularExpressions;
using Locum.Model;
using Locum.Planning;
using Locum.Proving;
using Locum.Rendering;
using Xunit;

namespace Locum.Tests.Properties;

/// <summary>Compiles the generated C of many projects with few runs of one compiler: the same files with the same flags, joined.</summary>
/// <remarks>
/// The core's files are one translation unit; port, tables and first module another. Files that see no generated header but
/// locum_config.h, and mention nothing of that but the longest frame's length, are compiled once per length.
/// </remarks>
/// <param name="quick">More flags for what is compiled every time.</param>
internal sealed partial class JoinedBuild(CCompiler compiler, IReadOnlyList<string> flags, IReadOnlyList<string> quick) : IDisposable
{
    private const string Config = "locum_config.h";
    private const string Length = "LOCUM_MAX_LENGTH";

    private readonly TempFolder _kept = new();
    private readonly ConcurrentDictionary<string, Lazy<string>> _objects = [];

    /// <summary>Writes a project's files into a folder and builds "firmware" there; null when it went well, otherwise the compiler's messages.</summary>
    public string? Build(IReadOnlyList<OutputFile> files, string folder)
    {
        foreach (var file in files)
            file.Save(folder);
        var texts = files.ToDictionary(f => f.Path, f => f.Text);
        var sources = files.Select(f => f.Path).Where(p => p.EndsWith(".c", StringComparison.Ordinal)).ToLookup(p => Same(p, texts));
        var core = sources[false].Where(p => p.StartsWith("core/", StringComparison.Ordinal));
        // Modules use the same names for themselves, so each has its own translation unit.
        var modules = sources[false].Where(p => !p.Contains('/', StringComparison.Ordinal) && p is not "locum_tables.c").ToList();
        File.WriteAllText(Path.Combine(folder, "all_core.c"), Includes(core));
        File.WriteAllText(Path.Combine(folder, "all_else.c"), Includes(sources[false].Except(core).Except(modules.Skip(1))));
        var length = Regex.Match(texts[Config], $@"^#define {Length} (\w+)", RegexOptions.Multiline).Groups[1].Value;
        var objects = sources[true].Select(p => _objects.GetOrAdd($"{length} {p}", key => new Lazy<string>(() => Compile(p, key, folder))).Value);
        var (ok, messages) = compiler.Build(folder, ["all_core.c", "all_else.c", .. modules.Skip(1), .. objects], "firmware", [.. flags, .. quick]);
        return ok ? null : messages;
    }

    /// <summary>Builds a board's program for the PC and holds it against the simulator; the C must compile without a warning.</summary>
    public ProofResult Prove(BoardPlan plan, Stimulus stimulus, string project = "test")
    {
        var onPc = Prover.OnPc(plan);
        using var folder = new TempFolder();
        var messages = Build(FirmwareRenderer.Render(onPc, project, "0"), folder.Path());
        Assert.True(messages is null, messages);
        return Prover.Compare(onPc, stimulus, folder.Path());
    }

    public void Dispose() => _kept.Dispose();

    private string Compile(string source, string key, string folder)
    {
        var compiled = _kept.Path($"{key.Replace('/', '_')}.o");
        var (ok, messages) = compiler.Build(folder, ["-c", source], compiled, flags);
        return ok ? compiled : throw new InvalidOperationException(messages);
    }

    /// <summary>Is a file the same in every project whose longest frame is as long?</summary>
    private static bool Same(string path, Dictionary<string, string> texts)
    {
        var seen = new HashSet<string>();
        var open = new Stack<string>([path]);
        while (open.TryPop(out var at))
        {
            if (!seen.Add(at))
                continue;
            foreach (Match include in Include().Matches(texts[at]))
                open.Push(new[] { "", "core/", "port/" }.Select(f => f + include.Groups[1].Value).First(texts.ContainsKey));
        }
        seen.Remove(Config);
        var macros = Define().Matches(texts[Config]).Select(m => m.Groups[1].Value);
        return seen.All(s => s.Contains('/', StringComparison.Ordinal))
            && macros.Where(m => m is not Length).All(m => seen.All(s => !texts[s].Contains(m, StringComparison.Ordinal)));
    }

    private static string Includes(IEnumerable<string> paths) => new StringBuilder().AppendJoin('\n', paths.Select(p => $"#include \"{p}\"")).Append('\n').ToString();

    [GeneratedRegex("^#include \"(.+)\"", RegexOptions.Multiline)]
    private static partial Regex Include();

    [GeneratedRegex(@"^#define (\w+)", RegexOptions.Multiline)]
    private static partial Regex Define();
}
