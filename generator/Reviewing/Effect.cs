using System.Globalization;
using Locum.Model;
using Locum.Validation;

namespace Locum.Reviewing;

/// <summary>What follows from the changes.</summary>
/// <param name="What">For example "load of bus body in mode running, cab-heat".</param>
public sealed record Effect(string What, string Before, string After);

/// <summary>Bus load by mode, and the cautions that outputs repeat.</summary>
internal static class Effects
{
    /// <param name="before">Null when the module is new.</param>
    /// <param name="after">Null when the module is gone.</param>
    public static IEnumerable<Effect> Of(Scope? before, Scope? after)
    {
        var name = (after ?? before)!.Module.Name;
        var old = Loads(before);
        var now = Loads(after);
        foreach (var place in old.Keys.Union(now.Keys))
        {
            var (a, b) = (Percent(old, place), Percent(now, place));
            if (a != b)
                yield return new Effect($"load of bus {place.Bus} in mode {place.Mode}, {name}", a, b);
        }
        var (cautionsBefore, cautionsAfter) = (Cautioned(before), Cautioned(after));
        if (cautionsBefore != cautionsAfter)
            yield return new Effect($"cautions repeated by every output, {name}", cautionsBefore, cautionsAfter);
    }

    private static Dictionary<(string Bus, string Mode), double> Loads(Scope? scope)
    {
        var loads = new Dictionary<(string, string), double>();
        for (var bus = 0; bus < scope?.Module.Buses.Count; bus++)
            foreach (var mode in scope.Module.Modes)
                loads[(scope.Bus(bus), scope.Mode(mode.Index))] = BusLoadRule.Load(scope.Module, bus, mode.Index);
        return loads;
    }

    private static string Percent(Dictionary<(string Bus, string Mode), double> loads, (string, string) place) =>
        (loads.GetValueOrDefault(place) * 100).ToString("0.0", CultureInfo.InvariantCulture) + " %";

    private static string Cautioned(Scope? scope) => scope is null || scope.Module.Hazard is Hazard.None ? "none" : Cautions.Word(scope.Module.Hazard);
}
