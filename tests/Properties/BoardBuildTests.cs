using Locum.Planning;
using Locum.Rendering;
using Locum.Tests.Firmware;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>Generated projects build for the microcontrollers with nothing but their own Makefile.</summary>
public sealed class BoardBuildTests(ITestOutputHelper log)
{
    private const int Wanted = 2;

    // What the linkers say when flash or RAM is too small. A plan knows only the least that a module needs.
    private static readonly string[] s_overflows = ["is not within region", "will not fit in region", "overflowed by"];

    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("stm32f405-bxcan")]
    [Sampled("stm32g474-fdcan")]
    [InlineData("linux-socketcan")]
    [Sampled("sam3x8e-can")]
    [Sampled("rp2040-mcp2515")]
    [Sampled("rp2040-mcp2518fd")]
    [Sampled("imxrt1062-flexcan")]
    [Sampled("own-board")]
    public void Drawn_descriptions_build_without_a_warning(string kind)
    {
        var (built, overflows) = (0, 0);
        Cases.Run(log, new DescriptionGen(), Wanted * 4, project =>
        {
            if ((built >= Wanted && !Cases.Long) || GeneratedProject.On(kind, project.Load().Use) is not { } plan)
                return;
            using var folder = new TempFolder();
            var messages = Build(plan, folder);
            if (s_overflows.Any(o => messages.Contains(o, StringComparison.Ordinal)))
            {
                overflows++;
                return;
            }
            Assert.True(messages.Length is 0, messages);
            built++;
        }, 3_000);
        log.WriteLine($"{built} built, {overflows} do not fit");
        Assert.True(overflows * 20 <= built, $"{overflows} of the drawn descriptions do not fit {kind}, {built} do");
        Assert.True(!Cases.Whole || built >= Wanted, $"only {built} of the drawn descriptions fit {kind}");
    }

    private static string Build(BoardPlan plan, TempFolder folder)
    {
        foreach (var file in FirmwareRenderer.Render(plan, "drawn", "0"))
        {
            Directory.CreateDirectory(Path.GetDirectoryName(folder.Path(file.Path))!);
            File.WriteAllText(folder.Path(file.Path), file.Text);
        }
        var (code, output, error) = Shell.Run("make", ["-s", "-j2"], folder.Path());
        return code is 0 && !output.Contains("warning", StringComparison.OrdinalIgnoreCase) ? error : output + error;
    }
}
