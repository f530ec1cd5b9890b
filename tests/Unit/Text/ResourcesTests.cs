using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Text;

public class ResourcesTests
{
    [Fact]
    public void The_core_inside_the_program_is_the_core_of_the_repository() =>
        Assert.Equal(File.ReadAllText(RepoRoot.Path("shared", "core", "locum_core.c")).ReplaceLineEndings("\n"), Resources.Text("core/locum_core.c"));

    [Fact]
    public void Every_template_file_travels_inside_the_program()
    {
        var root = RepoRoot.Path("templates");
        var files = Directory.EnumerateFiles(root, "*", SearchOption.AllDirectories)
            .Select(f => "templates/" + Path.GetRelativePath(root, f).Replace('\\', '/'));

        Assert.Equal(files.Order(StringComparer.Ordinal), Resources.Names.Where(n => n.StartsWith("templates/", StringComparison.Ordinal)).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void An_unknown_file_is_a_fault_of_the_program() =>
        Assert.Throws<FileNotFoundException>(() => Resources.Text("core/none.c"));
}
