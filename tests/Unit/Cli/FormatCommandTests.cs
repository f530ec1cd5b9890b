using Xunit;

namespace Locum.Tests.Unit.Cli;

/// <summary>locum format as a user sees it.</summary>
public sealed class FormatCommandTests
{
    private const string Messy = "locum:   1\nmodule: m # name\n";
    private const string Neat = "locum: 1\nmodule: m  # name\n";

    [Fact]
    public void Check_lists_files_and_writes_nothing()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("a.yaml"), Messy);
        File.WriteAllText(folder.Path("b.yaml"), Neat);
        File.WriteAllText(folder.Path("other.yaml"), "not:   ours\n");
        var (code, output, error) = CommandLine.Run("format", "--check", folder.Path());
        Assert.Equal((1, folder.Path("a.yaml") + "\n", ""), (code, output, error));
        Assert.Equal(Messy, File.ReadAllText(folder.Path("a.yaml")));
    }

    [Fact]
    public void Files_are_written_once_and_nothing_else_is_left()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("a.yaml"), Messy);
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(folder.Path("a.yaml"), UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupRead);
        Assert.Equal(0, CommandLine.Run("format", folder.Path("a.yaml")).Code);
        Assert.Equal(Neat, File.ReadAllText(folder.Path("a.yaml")));
        if (!OperatingSystem.IsWindows())
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupRead, File.GetUnixFileMode(folder.Path("a.yaml")));
        Assert.Equal((0, "", ""), CommandLine.Run("format", folder.Path()));
        Assert.Equal((0, "", ""), CommandLine.Run("format", "--check", folder.Path()));
        Assert.Single(Directory.GetFileSystemEntries(folder.Path()));
    }

    [Fact]
    public void A_link_stays_a_link()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("a.yaml"), Messy);
        File.CreateSymbolicLink(folder.Path("l.yaml"), folder.Path("a.yaml"));
        Assert.Equal(0, CommandLine.Run("format", folder.Path("l.yaml")).Code);
        Assert.NotNull(File.ResolveLinkTarget(folder.Path("l.yaml"), false));
        Assert.Equal(Neat, File.ReadAllText(folder.Path("a.yaml")));
    }

    [Fact]
    public void Unusable_files_are_reported_and_the_others_are_formatted()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("a.yaml"), "locum: 1\nmodule: [\n");
        File.WriteAllText(folder.Path("b.yaml"), Messy);
        var (code, _, error) = CommandLine.Run("format", folder.Path());
        Assert.Equal(2, code);
        Assert.Contains("LC0103", error, StringComparison.Ordinal);
        Assert.Equal("locum: 1\nmodule: [\n", File.ReadAllText(folder.Path("a.yaml")));
        Assert.Equal(Neat, File.ReadAllText(folder.Path("b.yaml")));
        Assert.Equal(2, CommandLine.Run("format", folder.Path("absent.yaml")).Code);
    }

    [Fact]
    public void The_projects_are_in_canonical_form() =>
        Assert.Equal((0, "", ""), CommandLine.Run("format", "--check", RepoRoot.Path("projects")));
}
