using Locum.Diagnostics;
using Locum.Pipeline;
using Locum.Schema;
using Locum.Tests.Golden;
using Xunit;

namespace Locum.Tests.Unit.Schema;

/// <summary>The schema and 'locum check' say the same about shape.</summary>
public sealed class SchemaCorpusTests
{
    public static TheoryData<string> Valid => [.. Files("tests/Golden/valid"), .. Files("projects")];

    public static TheoryData<string> Invalid => [.. Files("tests/Golden/invalid")];

    [Theory]
    [MemberData(nameof(Valid))]
    public void What_checks_without_findings_is_accepted(string file)
    {
        var path = RepoRoot.Path(file);
        Assert.False(Loader.Load(path).Diagnostics.HasErrors);
        Assert.Empty(EditorView.Objections(EditorView.Parse(path)!));
    }

    [Theory]
    [MemberData(nameof(Invalid))]
    public void What_the_schema_rejects_does_not_check(string file)
    {
        var path = RepoRoot.Path(file);
        if (EditorView.Parse(path) is { } root && EditorView.Objections(root).Count > 0)
            Assert.True(Loader.Load(path).Diagnostics.HasErrors);
    }

    [Fact]
    public void Every_finding_of_shape_is_seen_in_an_editor_or_listed_with_a_reason()
    {
        var unlisted = new List<string>();
        var used = new HashSet<string>();
        foreach (var file in Files("tests/Golden/invalid"))
        {
            var path = RepoRoot.Path(file);
            if (EditorView.Parse(path) is not { } root)
                continue;
            var objections = EditorView.Objections(root);
            foreach (var finding in Loader.Load(path).Diagnostics.Sorted.Where(d => d.Code.Id.StartsWith("LC02", StringComparison.Ordinal) && d.Span.File == path))
            {
                var pointer = EditorView.PointerTo(root, finding.Span);
                if (objections.Contains(pointer) || (pointer.Length > 0 && objections.Contains(pointer[..pointer.LastIndexOf('/')])))
                    continue;
                if (SchemaLimits.Reason(finding) is { } reason)
                    used.Add(reason);
                else
                    unlisted.Add($"{file}{pointer}: {finding.Code.Id} {finding.Message}");
            }
        }
        Assert.True(unlisted.Count is 0, string.Join('\n', unlisted));
        Assert.Equal(SchemaLimits.All.Select(l => l.Reason).Order(), used.Order());
    }

    internal static IEnumerable<string> Files(string folder) => Directory.EnumerateFiles(RepoRoot.Path(folder.Split('/')), "*.yaml", SearchOption.AllDirectories)
        .Select(f => Path.GetRelativePath(RepoRoot.Path(), f).Replace('\\', '/')).Order(StringComparer.Ordinal);
}
