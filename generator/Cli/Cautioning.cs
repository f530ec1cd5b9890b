using Locum.Model;
using Locum.Planning;
using Locum.Rendering;

namespace Locum.Cli;

/// <summary>Repeats the cautions of hazardous modules in every command's output.</summary>
internal static class Cautioning
{
    public static void Show(TextWriter writer, IEnumerable<BoardPlan> plans)
    {
        foreach (var module in plans.SelectMany(p => p.Modules).Select(m => m.Module).Where(m => m.Hazard is not Hazard.None).DistinctBy(m => m.Name))
        {
            writer.WriteLine($"CAUTION, {CText.Comment(module.Name)} ({Cautions.Word(module.Hazard)}):");
            foreach (var line in Cautions.For(module.Hazard).SelectMany(c => CText.Wrap(c, Terminal.Width - 2)))
                writer.WriteLine($"  {line}");
        }
    }
}
