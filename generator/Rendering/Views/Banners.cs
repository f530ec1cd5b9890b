using Locum.Model;
using Locum.Planning;

namespace Locum.Rendering.Views;

/// <summary>The comment at the head of every generated file.</summary>
internal static class Banners
{
    private const int Width = 92;

    public static IReadOnlyList<string> Of(Module module, string version) =>
    [
        .. CText.Wrap($"{module.Name}: {module.Summary}", Width),
        "",
        $"Written by Locum {version} from {CText.Comment(Path.GetFileName(module.Path))},",
        $"SHA-256 {module.Hash}.",
        "Do not edit: change the description and generate again.",
        "",
        .. Cautions.For(module.Hazard).SelectMany(c => CText.Wrap(c, Width)),
        .. Acknowledged(module),
    ];

    public static IReadOnlyList<string> Of(BoardPlan plan, string project, string version) =>
    [
        .. CText.Wrap($"{project}, board {plan.Name} ({plan.Kind.Name}): stands in for {string.Join(", ", plan.Modules.Select(m => m.Module.Name))}.", Width),
        "",
        $"Written by Locum {version} from",
        .. plan.Modules.Select(m => $"  {CText.Comment(Path.GetFileName(m.Module.Path))}, SHA-256 {m.Module.Hash}"),
        "Do not edit: change the descriptions and generate again.",
        "",
        .. plan.Cautions.SelectMany(c => CText.Wrap(c, Width)),
        .. plan.Modules.SelectMany(m => Acknowledged(m.Module)),
    ];

    private static IEnumerable<string> Acknowledged(Module module) => module.Acknowledge is null ? []
        : CText.Wrap($"Acknowledged for {module.Name}: {module.Acknowledge}", Width);
}
