using Locum.Reviewing;
using Xunit;

namespace Locum.Tests.Unit.Reviewing;

/// <summary>What is said when git cannot help.</summary>
[Collection(nameof(GitTests))]
public sealed class GitTests
{
    [Fact]
    public void A_missing_program_is_said_with_what_to_do()
    {
        var (program, folder) = (Git.Program, new TempFolder());
        using (folder)
        {
            try
            {
                Git.Program = "no-such-git";
                var e = Assert.Throws<GitException>(() => Git.Extract(folder.Path(), "HEAD", "", folder.Path("out")));
                Assert.Contains("was not found", e.Message, StringComparison.Ordinal);
                Assert.NotEqual("", e.Mend);
            }
            finally
            {
                Git.Program = program;
            }
        }
    }

    [Fact]
    public void Outside_of_a_repository_is_said()
    {
        using var folder = new TempFolder();
        Assert.Contains("not inside a git repository", Assert.Throws<GitException>(() => Git.Extract(folder.Path(), "HEAD", "", folder.Path("out"))).Message, StringComparison.Ordinal);
    }

    /// <summary>Changes the name of the program, so it runs beside no other test.</summary>
    [CollectionDefinition(nameof(GitTests), DisableParallelization = true)]
    public sealed class GitDefinition;
}
