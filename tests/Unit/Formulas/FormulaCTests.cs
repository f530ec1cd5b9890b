using Locum.Formulas;
using Xunit;

namespace Locum.Tests.Unit.Formulas;

/// <summary>The generated C and the simulator's delegates give the same value for every input, and operators bind as in C.</summary>
public sealed class FormulaCTests
{
    private const int Formulas = 600;
    private static readonly string[] s_strict = ["-std=c99", "-Wall", "-Wextra", "-Wconversion", "-Werror"];
    private static readonly IReadOnlyList<Sample> s_inputs = FormulaProgram.Inputs(48);

    [Theory]
    [InlineData("gcc", "-O0")]
    [InlineData("gcc", "-O2")]
    [InlineData("clang", "-O1")]
    [InlineData("gcc", "-O1 -fsanitize=undefined -fno-sanitize-recover=all")]
    public void Generated_C_gives_the_same_values(string compiler, string flags)
    {
        var drawn = Drawn();
        var text = FormulaProgram.Text([.. drawn.Select(d => FormulaProgram.Generated(d.Root))], s_inputs);
        var printed = FormulaProgram.Run(compiler, text, [.. s_strict, .. flags.Split(' ')]);
        Compare(drawn, printed);
    }

    [Theory]
    [InlineData("avr-gcc", "-mmcu=atmega328p")]
    [InlineData("arm-none-eabi-gcc", "-mcpu=cortex-m3")]
    public void Generated_C_compiles_for_the_boards_without_warnings(string compiler, string board)
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("formulas.c"), FormulaProgram.Text([.. Drawn().Select(d => FormulaProgram.Generated(d.Root))], [], prints: false));
        Shell.Must(compiler, [.. s_strict, board, "-Os", "-I", RepoRoot.Path("shared", "core"), "-c", "-o", folder.Path("formulas.o"), folder.Path("formulas.c")]);
        Assert.True(new FileInfo(folder.Path("formulas.o")).Length > 0);
    }

    [Fact]
    public void Operators_bind_as_in_C()
    {
        var texts = new FormulaTexts(3);
        var drawn = Enumerable.Range(0, Formulas).Select(_ => texts.DrawRow()).Select(t => (Text: t, Root: Root(t))).ToList();
        // The texts themselves, as C on 'int' of 32 bits that wraps.
        var names = string.Concat(new[] { "flag", "u8", "lock" }.Select(n => $"#define {n} ((int)x.{n})\n")) + "#define s8 locum_sign_extend(x.s8, 8)\n";
        var program = FormulaProgram.Text([.. drawn.Select(d => d.Text)], s_inputs).Replace("static int32_t formula_0(", $"{names}static int32_t formula_0(", StringComparison.Ordinal);
        var printed = FormulaProgram.Run("gcc", program, "-std=gnu99", "-w", "-fwrapv", "-O0");
        Compare(drawn, printed);
    }

    private static List<(string Text, FormulaNode Root)> Drawn()
    {
        var texts = new FormulaTexts(11);
        return [.. Enumerable.Range(0, Formulas).Select(i => texts.Draw((i % 4) + 1)).Select(t => (t, Root(t)))];
    }

    private static FormulaNode Root(string text)
    {
        var (formula, found) = Sample.Parse(text);
        return formula?.Root ?? throw new InvalidOperationException($"{text}: {string.Join('\n', found)}");
    }

    private static void Compare(List<(string Text, FormulaNode Root)> drawn, IReadOnlyList<string> printed)
    {
        var expected = FormulaProgram.Expected(drawn.Select(d => d.Root), s_inputs);
        Assert.Equal(expected.Count, printed.Count);
        for (var i = 0; i < expected.Count; i++)
            Assert.True(expected[i] == printed[i], $"{drawn[i].Text}\n{FormulaProgram.Generated(drawn[i].Root)}\n{expected[i]}\n{printed[i]}");
    }
}
