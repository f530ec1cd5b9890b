using System.Text.Json;
using Locum.Reviewing;
using Locum.Tests.Unit.Reviewing;
using Xunit;

namespace Locum.Tests.Unit.Cli;

/// <summary>locum diff as a user sees it: files, folders, revisions of a real repository, and as git's driver.</summary>
public sealed class DiffCommandTests
{
    private static readonly string s_changed = Reviews.Valid.Replace("every: 20 ms", "every: 10 ms", StringComparison.Ordinal).Replace("A seat", "A | chair", StringComparison.Ordinal);

    private static readonly string s_project = "locum: 1\nproject: p\nboards:\n  one: {board: pc, modules: [seat.yaml]}\n";

    [Fact]
    public void Exit_codes_tell_same_different_and_unusable()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("a.yaml"), Reviews.Valid);
        File.WriteAllText(folder.Path("b.yaml"), s_changed);
        File.WriteAllText(folder.Path("bad.yaml"), "locum: 1\nmodule: x\n");
        File.WriteAllText(folder.Path("s.yaml"), "locum: 1\nstimulus: s\nfor: 1 s\n");
        Assert.Equal((0, "", ""), CommandLine.Run("diff", folder.Path("a.yaml"), folder.Path("a.yaml")));
        var (code, output, error) = CommandLine.Run("diff", folder.Path("a.yaml"), folder.Path("b.yaml"));
        Assert.Equal((1, ""), (code, error));
        Assert.Contains("    period: 20 ms → 10 ms\n", output, StringComparison.Ordinal);
        Assert.All(output.Split('\n'), line => Assert.True(line.Length <= 80, line));
        foreach (var other in new[] { "bad.yaml", "s.yaml", "absent.yaml" })
        {
            var refused = CommandLine.Run("diff", folder.Path("a.yaml"), folder.Path(other));
            Assert.Equal((2, ""), (refused.Code, refused.Output));
            Assert.Contains("mend:", refused.Error, StringComparison.Ordinal);
        }
        Assert.Equal(2, CommandLine.Run("diff", folder.Path("a.yaml")).Code);
        Assert.Equal(2, CommandLine.Run("diff", "--driver", "x").Code);
    }

    [Fact]
    public void Json_and_markdown_say_the_same()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("a.yaml"), Reviews.Valid);
        File.WriteAllText(folder.Path("b.yaml"), s_changed);
        var (_, json, _) = CommandLine.Run("diff", folder.Path("a.yaml"), folder.Path("b.yaml"), "--format", "json");
        using var document = JsonDocument.Parse(json);
        var changes = document.RootElement.GetProperty("changes").EnumerateArray().Select(c => $"{c.GetProperty("label")} {c.GetProperty("before")} {c.GetProperty("after")}");
        Assert.Equal(["summary A seat A | chair", "period 20 ms 10 ms"], changes);
        Assert.Equal(2, document.RootElement.GetProperty("effects").GetArrayLength());
        var (_, markdown, _) = CommandLine.Run("diff", folder.Path("a.yaml"), folder.Path("b.yaml"), "--format", "markdown");
        Assert.Contains("| module seat / frame Status | period | 20 ms | 10 ms |\n", markdown, StringComparison.Ordinal);
        Assert.Contains("| A seat | A \\| chair |", markdown, StringComparison.Ordinal);
    }

    [Fact]
    public void Boards_and_modules_of_a_project_are_compared()
    {
        using var folder = new TempFolder();
        foreach (var side in new[] { "old", "new" })
        {
            Directory.CreateDirectory(folder.Path(side));
            File.WriteAllText(folder.Path(side, "seat.yaml"), Reviews.Valid.Replace("module: seat", side is "old" ? "module: seat" : "module: chair", StringComparison.Ordinal));
            File.WriteAllText(folder.Path(side, "project.yaml"), side is "old" ? s_project : s_project.Replace("one:", "first:", StringComparison.Ordinal).Replace("[seat.yaml]", "[seat.yaml], bootloader: yes", StringComparison.Ordinal));
        }
        Assert.Equal((1, "module chair: renamed from seat\nboard first: renamed from one\n  bootloader: no → yes\n", ""), CommandLine.Run("diff", folder.Path("old"), folder.Path("new")));
    }

    [Fact]
    public void Revisions_are_read_through_git()
    {
        using var folder = new TempFolder();
        Repository(folder);
        var (code, output, error) = CommandLine.Run("diff", "HEAD~1", "HEAD", "--path", Path.GetRelativePath(".", folder.Path("p")));
        Assert.True(code is 2, output); // the tests' folder is another repository, or none
        Assert.Contains("mend:", error, StringComparison.Ordinal);
        Assert.Equal((1, "period: 20 ms → 10 ms"), Locum(folder, "diff", "HEAD~1", "HEAD", "--path", "p"));
        Assert.Equal((1, "period: 20 ms → 10 ms"), Locum(folder, "diff", "HEAD~1:p/seat.yaml", "p/seat.yaml"));
        Assert.Equal((1, "period: 20 ms → 10 ms"), Locum(folder, "diff", "HEAD~1", "--path", "./p/../p"));
        Assert.Equal((0, ""), Locum(folder, "diff", "HEAD", "--path", "p"));
        Assert.Equal((2, ""), Locum(folder, "diff", "nowhere", "HEAD", "--path", "p"));
        Assert.Equal((2, ""), Locum(folder, "diff", "HEAD", "HEAD", "--path", "q"));
        Assert.Equal((2, ""), Locum(folder, "diff", "HEAD~1", "HEAD"));
        Assert.Equal((2, ""), Locum(folder, "diff", "--", "-x:p", "p"));
    }

    [Fact]
    public void Git_uses_it_as_a_driver()
    {
        using var folder = new TempFolder();
        Repository(folder);
        File.WriteAllText(folder.Path(".gitattributes"), "*.yaml diff=locum\n");
        GitOk(folder, "config", "diff.locum.command", $"dotnet '{typeof(Git).Assembly.Location}' diff --driver");
        var seen = GitOk(folder, "diff", "HEAD~1", "HEAD");
        Assert.Contains("p/seat.yaml\nmodule seat\n  frame Status\n    period: 20 ms → 10 ms\n", seen, StringComparison.Ordinal);
        File.WriteAllText(folder.Path("p", "project.yaml"), s_project.Replace("pc, ", "pc, bootloader: yes, ", StringComparison.Ordinal));
        File.WriteAllText(folder.Path("other.yaml"), "something: 2\n");
        seen = GitOk(folder, "diff", "HEAD");
        Assert.Contains("p/project.yaml\nboard one\n  bootloader: no → yes\n", seen, StringComparison.Ordinal);
        Assert.Contains("-something: 1\n+something: 2\n", seen, StringComparison.Ordinal);
    }

    private static void Repository(TempFolder folder)
    {
        GitOk(folder, "init", "-q");
        Directory.CreateDirectory(folder.Path("p"));
        File.WriteAllText(folder.Path("p", "project.yaml"), s_project);
        File.WriteAllText(folder.Path("p", "seat.yaml"), Reviews.Valid);
        File.WriteAllText(folder.Path("other.yaml"), "something: 1\n");
        Commit(folder);
        File.WriteAllText(folder.Path("p", "seat.yaml"), Reviews.Valid.Replace("every: 20 ms", "every: 10 ms", StringComparison.Ordinal));
        Commit(folder);
    }

    private static void Commit(TempFolder folder)
    {
        GitOk(folder, "add", ".");
        GitOk(folder, "-c", "user.name=Test", "-c", "user.email=test@example.org", "commit", "-q", "-m", "state");
    }

    private static string GitOk(TempFolder folder, params string[] arguments) => Shell.Must("git", arguments, folder.Path());

    // The program with the folder as its current one, and the line about the period.
    private static (int Code, string Period) Locum(TempFolder folder, params string[] arguments)
    {
        var (code, output, error) = Shell.Run("dotnet", [typeof(Git).Assembly.Location, .. arguments], folder.Path());
        Assert.Equal(code is 2, error.Contains("mend:", StringComparison.Ordinal));
        return (code, output.Split('\n').Select(l => l.Trim()).FirstOrDefault(l => l.StartsWith("period", StringComparison.Ordinal)) ?? "");
    }
}
