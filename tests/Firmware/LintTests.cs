using Locum.Pipeline;
using Locum.Planning;
using Locum.Proving;
using Locum.Rendering;
using Xunit;

namespace Locum.Tests.Firmware;

/// <summary>The core and the generated C under two static analysers.</summary>
public sealed class LintTests
{
    private static readonly string s_checks = "-*,bugprone-*,cert-*,clang-analyzer-*,misc-*,"
        // Interfaces of the core take several numbers of one type; names tell them apart.
        + "-bugprone-easily-swappable-parameters";

    // Which parts of the core a description switches on.
    [Theory]
    [InlineData("diagnostics.yaml")]
    [InlineData("moving.yaml")]
    [Sampled("j1939.yaml")]
    [Sampled("sending.yaml")]
    [Sampled("formulas.yaml")]
    [Sampled("protection.yaml")]
    public void Analysers_find_nothing(string description)
    {
        using var folder = new TempFolder();
        var sources = Write(folder, RepoRoot.Path("tests", "Golden", "valid", description));
        var (code, output, error) = Shell.Run("cppcheck",
            ["--std=c99", "--enable=warning,style,performance,portability", "--error-exitcode=1", "-q", "-I.", "-Icore", "-Iport", .. sources], folder.Path());
        Assert.True(code is 0, output + error);
        (code, output, error) = Shell.Run("clang-tidy",
            ["--quiet", $"--checks={s_checks}", "--warnings-as-errors=*", .. sources, "--", "-std=c99", "-I.", "-Icore", "-Iport"], folder.Path());
        Assert.True(code is 0, output + error);
    }

    [Fact]
    public void A_mistake_is_found()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("a.c"), "int f(const int *a);\nint f(const int *a)\n{\n    int x[2];\n    x[0] = *a;\n    return x[1];\n}\n");
        Assert.NotEqual(0, Shell.Run("clang-tidy", ["--quiet", $"--checks={s_checks}", "--warnings-as-errors=*", "a.c", "--", "-std=c99"], folder.Path()).Code);
        File.WriteAllText(folder.Path("b.c"), "int f(void);\nint f(void)\n{\n    int x[2] = {0, 0};\n    return x[2];\n}\n");
        Assert.NotEqual(0, Shell.Run("cppcheck", ["--std=c99", "--error-exitcode=1", "-q", "b.c"], folder.Path()).Code);
    }

    // The port's own files follow the board; the core and what is generated are looked at here.
    private static List<string> Write(TempFolder folder, string path)
    {
        var loaded = Loader.Load(path);
        Assert.False(loaded.Diagnostics.HasErrors);
        var plan = Prover.OnPc(loaded.Plans.Single());
        var files = FirmwareRenderer.Render(plan, "lint", Versions.Generator);
        OutputFolder.Write(folder.Path(), files);
        return [.. files.Select(f => f.Path).Where(p => p.EndsWith(".c", StringComparison.Ordinal) && !p.StartsWith("port/", StringComparison.Ordinal))];
    }
}
