using System.Text;
using Locum.Formulas;
using Locum.Rendering;

namespace Locum.Tests.Unit.Formulas;

/// <summary>One C program that evaluates many formulas for many inputs and prints one line for each formula.</summary>
internal static class FormulaProgram
{
    private static readonly long[] s_corners = [0, 1, -1, 2, 7, 31, 32, 33, 127, 128, 255, int.MinValue, int.MaxValue, -int.MaxValue, 0x5555_5555_5555_5555, -2];

    private static readonly IReadOnlyList<FormulaSymbol> s_read = [.. Sample.Symbols.Where(s => s.Constant is null && !s.Later)];

    /// <summary>Inputs: every name at every corner value, then values by lot.</summary>
    public static IReadOnlyList<Sample> Inputs(int count)
    {
        var random = new Random(7);
        return [.. Enumerable.Range(0, count).Select(i =>
        {
            var inputs = new Sample { Mode = random.Next(3) };
            random.NextBytes(inputs.Bytes);
            foreach (var symbol in s_read)
            {
                var value = i < s_corners.Length ? s_corners[i] : random.Next(3) is 0 ? random.NextInt64() : s_corners[random.Next(s_corners.Length)];
                inputs.Values[symbol.Name] = (ulong)value & (ulong.MaxValue >> (64 - symbol.Bits));
            }
            return inputs;
        })];
    }

    /// <summary>What the program must print.</summary>
    public static IReadOnlyList<string> Expected(IEnumerable<FormulaNode> formulas, IReadOnlyList<Sample> inputs) =>
        [.. formulas.Select(Evaluator.Compile).Select(f => string.Join(' ', inputs.Select(i => f(i))))];

    /// <summary>The C expression the generator writes.</summary>
    public static string Generated(FormulaNode node) => new FormulaC(s => s.Origin is FormulaOrigin.Received ? $"(int32_t)x.{C(s)}" : $"x.{C(s)}", m => $"MODE_{m}").Value(node);

    /// <param name="expressions">C expressions over x.NAME, data and mode.</param>
    /// <param name="prints">False for a text that is compiled only, also for boards without standard output.</param>
    public static string Text(IReadOnlyList<string> expressions, IReadOnlyList<Sample> inputs, bool prints = true)
    {
        var text = new StringBuilder($$"""
            #include <stdint.h>
            {{(prints ? "#include <stdio.h>" : "")}}
            #include "locum_checksum.h"
            #include "locum_formula.h"

            enum { MODE_0, MODE_1, MODE_2 };
            typedef struct { {{string.Join(' ', s_read.Select(s => $"{Type(s)} {C(s)};"))}} uint8_t mode; uint8_t data[8]; } inputs;
            extern inputs x;
            extern uint8_t mode;
            extern uint8_t data[8];
            inputs x;
            uint8_t mode;
            uint8_t data[8];
            typedef int32_t (*formula)(void);
            extern const formula formulas[{{expressions.Count}}];

            """);
        for (var i = 0; i < expressions.Count; i++)
            text.Append($"static int32_t formula_{i}(void)\n{{\n    return {expressions[i]};\n}}\n");
        text.Append($"const formula formulas[{expressions.Count}] = {{{string.Join(", ", Enumerable.Range(0, expressions.Count).Select(i => $"formula_{i}"))}}};\n");
        if (prints)
            text.Append($$"""
                static const inputs all[{{inputs.Count}}] = {
                {{string.Join('\n', inputs.Select(i => $"    {{{string.Join(", ", s_read.Select(s => $"UINT64_C({i.Values[s.Name]})"))}, {i.Mode}, {{{string.Join(", ", i.Bytes)}}}}},"))}}
                };
                int main(void)
                {
                    for (int f = 0; f < {{expressions.Count}}; f++) {
                        for (int i = 0; i < {{inputs.Count}}; i++) {
                            x = all[i];
                            mode = x.mode;
                            for (int b = 0; b < 8; b++) {
                                data[b] = x.data[b];
                            }
                            printf(i == 0 ? "%ld" : " %ld", (long)formulas[f]());
                        }
                        printf("\n");
                    }
                    return 0;
                }

                """);
        return text.ToString();
    }

    /// <summary>Compiles for this computer with warnings as errors; returns what the program prints.</summary>
    public static IReadOnlyList<string> Run(string compiler, string text, params string[] flags)
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("formulas.c"), text);
        Shell.Must(compiler, [.. flags, "-I", RepoRoot.Path("shared", "core"), "-o", folder.Path("formulas"), folder.Path("formulas.c"), RepoRoot.Path("shared", "core", "locum_checksum.c")]);
        return Shell.Must(folder.Path("formulas"), []).TrimEnd('\n').Split('\n');
    }

    private static string C(FormulaSymbol symbol) => symbol.Name.Replace('.', '_');

    private static string Type(FormulaSymbol symbol) => $"uint{(symbol.Bits <= 8 ? 8 : symbol.Bits <= 16 ? 16 : symbol.Bits <= 32 ? 32 : 64)}_t";
}
