using Locum.Proving;
using Xunit;

namespace Locum.Tests.Unit.Proving;

/// <summary>Changes an environment variable, so nothing else runs meanwhile.</summary>
[CollectionDefinition(nameof(ChangesEnvironment), DisableParallelization = true)]
public sealed class ChangesEnvironment;

[Collection(nameof(ChangesEnvironment))]
public sealed class CCompilerTests : IDisposable
{
    private readonly string? _before = Environment.GetEnvironmentVariable("CC");

    public void Dispose() => Environment.SetEnvironmentVariable("CC", _before);

    [Theory]
    [InlineData("clang")]
    [InlineData("gcc")]
    public void The_variable_names_the_compiler(string name)
    {
        Environment.SetEnvironmentVariable("CC", name);
        Assert.Equal(name, CCompiler.Find()?.Command);
    }

    [Fact]
    public void A_named_compiler_that_does_not_run_is_not_replaced_by_another()
    {
        Environment.SetEnvironmentVariable("CC", "no-such-compiler-here");
        Assert.Null(CCompiler.Find());
        Environment.SetEnvironmentVariable("CC", "false");
        Assert.Null(CCompiler.Find());
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData(" ")]
    public void Without_a_name_a_usual_one_is_found(string? name)
    {
        Environment.SetEnvironmentVariable("CC", name);
        Assert.Contains(CCompiler.Find()?.Command, new[] { "cc", "gcc", "clang" });
    }

    [Fact]
    public void Messages_of_a_failed_build_are_returned_and_warnings_fail_it()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("a.c"), "int main(void)\n{\n    int unused;\n    return 0;\n}\n");
        var (ok, messages) = CCompiler.Find("gcc")!.Build(folder.Path(), ["a.c"], folder.Path("a"));
        Assert.False(ok);
        Assert.Contains("unused", messages, StringComparison.Ordinal);
        File.WriteAllText(folder.Path("a.c"), "int main(void)\n{\n    return 3;\n}\n");
        Assert.Equal((true, ""), CCompiler.Find("gcc")!.Build(folder.Path(), ["a.c"], folder.Path("a")));
        // A program that does not read its input and ends with a code of its own.
        Assert.Equal(3, CCompiler.Run(folder.Path("a"), [], folder.Path(), new string('x', 1_000_000)).Code);
    }
}
