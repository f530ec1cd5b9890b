using Locum.Model;

namespace Locum.Reviewing;

/// <summary>A board of a project as an item.</summary>
internal static class BoardFacts
{
    /// <param name="moduleName">A module's name in the newer revision.</param>
    public static Item Of(BoardUse use, Func<string, string> moduleName, string name, string? wasNamed) => new()
    {
        Kind = "board",
        Name = name,
        WasNamed = wasNamed,
        Identity = string.Join('|', use.Modules.Select(m => moduleName(m.Name))),
        Facts =
        [
            new("kind", use.Kind),
            new("modules", Say.List(use.Modules.Select(m => moduleName(m.Name)))),
            .. Settings("bus", use.BusSettings),
            .. Settings("input", use.InputSettings),
            .. Settings("output", use.OutputSettings),
            new("led", use.Led?.Value ?? "usual"),
            .. GuardFacts.Of(use.Guards),
            new("bootloader", Say.YesNo(use.Bootloader)),
            new("stimulus", Path.GetFileName(use.StimulusPath) ?? "none"),
        ],
    };

    private static IEnumerable<Fact> Settings(string kind, IReadOnlyDictionary<string, IReadOnlyDictionary<string, Setting>> settings) =>
        from part in settings.OrderBy(s => s.Key, StringComparer.Ordinal)
        from setting in part.Value.OrderBy(s => s.Key, StringComparer.Ordinal)
        select new Fact($"{kind} {part.Key} {setting.Key}", setting.Value.Value) { Usual = "usual" };
}
