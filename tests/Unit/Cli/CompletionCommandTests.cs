using Xunit;

namespace Locum.Tests.Unit.Cli;

/// <summary>locum completion: what a shell offers.</summary>
public sealed class CompletionCommandTests
{
    private static readonly string s_program = typeof(Locum.Cli.ExitCode).Assembly.Location;

    [Theory]
    [InlineData("sim", "simulate")]
    [InlineData("simulate x --form", "--format")]
    [InlineData("simulate x --format ", "pcapng")]
    [InlineData("new x --board stm", "stm32f103-bxcan")]
    [InlineData("new x --hazard ", "high-voltage")]
    [InlineData("budget ti", "timing")]
    [InlineData("completion ", "bash")]
    public void The_program_suggests_what_comes_next(string line, string expected)
    {
        var (code, output, _) = CommandLine.Run($"[suggest:{line.Length}]", line);
        Assert.Equal(0, code);
        Assert.Contains(expected, output.Split('\n'));
    }

    [Theory]
    [InlineData("locum sim", 1, "simulate")]
    [InlineData("locum simulate x --format pc", 4, "pcapng")]
    [InlineData("locum new x --board stm32f103", 4, "stm32f103-bxcan")]
    [InlineData("locum check proj", 2, "projects")]
    public void Bash_completes_a_word(string line, int word, string expected)
    {
        var (code, script, error) = CommandLine.Run("completion", "bash");
        Assert.Equal((0, ""), (code, error));
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("try.sh"), $$"""
            locum() { dotnet '{{s_program}}' "$@"; }
            {{script}}
            COMP_LINE=$1 COMP_POINT=${#1} COMP_CWORD=$2
            read -ra COMP_WORDS <<<"$1"
            _locum
            printf '%s\n' "${COMPREPLY[@]}"
            """);
        Directory.CreateDirectory(folder.Path("projects"));
        Assert.Equal($"{expected}\n", Shell.Must("bash", [folder.Path("try.sh"), line, word.ToString()], folder.Path()));
    }

    [Theory]
    [InlineData("bash", "complete -F _locum locum")]
    [InlineData("zsh", "compdef _locum locum")]
    [InlineData("pwsh", "Register-ArgumentCompleter -Native -CommandName locum")]
    public void Every_script_registers_itself(string shell, string expected)
    {
        var (code, script, _) = CommandLine.Run("completion", shell);
        Assert.Equal(0, code);
        Assert.Contains(expected, script, StringComparison.Ordinal);
        Assert.Contains("[suggest:", script, StringComparison.Ordinal);
    }
}
