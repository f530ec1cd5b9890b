using System.Text;
using CsCheck;
using Locum.Proving;
using Locum.Tests.Unit.Wire;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Proving;

/// <summary>The bus model in C counts the bits of frames as the generator does; the two share no code.</summary>
public sealed class BusModelTests
{
    private const int Count = 3000;

    [Fact]
    public void Random_frames_of_all_formats_have_the_same_length()
    {
        var rows = new StringBuilder();
        var expected = new List<string>();
        Gen.Select(Frames.Id, Frames.AnyFormat).Check(0xFD, Count, frame =>
        {
            var (id, (format, data)) = frame;
            var bytes = string.Join(',', data.Select(b => $"0x{b:X2}u"));
            rows.Append($"    {{0x{FrameWord.Of(id, format):X8}u, 0, {data.Length}, {{{(bytes.Length is 0 ? "0" : bytes)}}}}},\n");
            var length = WireLength.Of(id, format, data);
            expected.Add($"{length.Nominal} {length.Fast}");
        });
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("locum_config.h"), "#define LOCUM_MAX_LENGTH 64u\n#define LOCUM_RECEIVES 0u\n");
        File.WriteAllText(folder.Path("main.c"), $$"""
            #include <inttypes.h>
            #include <stdio.h>

            #include "bus_model.h"

            static const locum_frame frames[] = {
            {{rows}}};

            int main(void)
            {
                for (size_t i = 0; i < sizeof frames / sizeof frames[0]; i++) {
                    const bus_frame_bits bits = bus_model_frame_bits(&frames[i]);

                    printf("%" PRIu32 " %" PRIu32 "\n", bits.nominal, bits.fast);
                }
                return 0;
            }
            """);
        Shell.Must("cc", ["-std=c99", "-Wall", "-Wextra", "-Wconversion", "-Werror", "-I.", $"-I{RepoRoot.Path("shared", "core")}", $"-I{RepoRoot.Path("templates", "boards", "pc")}", "main.c", RepoRoot.Path("templates", "boards", "pc", "bus_model.c"), "-o", "bits"], folder.Path());
        var printed = Shell.Must(folder.Path("bits"), []).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(Count, printed.Length);
        Assert.Equal(expected, printed);
    }
}
