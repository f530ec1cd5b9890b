using Locum.Binding;
using Locum.Capture;
using Locum.Diagnostics;

namespace Locum.Cli;

/// <summary>Which identifiers of a recording belong to the module.</summary>
internal static class Selection
{
    /// <summary>The chosen series; null, after telling why, when there are none.</summary>
    public static IReadOnlyList<FrameSeries>? Choose(Recording recording, IReadOnlyList<Recording> without, DraftRequest request, TextWriter error)
    {
        var unknown = request.Buses.Where(b => !recording.Buses.Contains(b)).ToList();
        var ids = request.Ids.Select(CommonOptions.Identifier).ToList();
        for (int i = 0; i < ids.Count; i++)
            if (ids[i] is null)
                unknown.Add(request.Ids[i]);
            else if (recording.Series.All(s => s.Id != ids[i]))
                unknown.Add(request.Ids[i]);
        if (unknown.Count > 0)
        {
            error.WriteLine($"locum: the captures have no {string.Join(", ", unknown.Select(Printable.Short))}");
            error.WriteLine($"  mend: buses are {Printable.Clean(string.Join(", ", recording.Buses))}; identifiers are written 0x2D1 or 0x18F0A42B");
            return null;
        }
        var chosen = recording.Series.Where(s => (request.Buses.Length is 0 || request.Buses.Contains(s.BusName))
            && (ids.Count > 0 ? ids.Contains(s.Id) : without.All(w => IsMissing(w, s)))).ToList();
        if (chosen.Count is > 0 and <= FrameBinder.Most)
            return chosen;
        error.WriteLine(chosen.Count is 0 ? "locum: no identifier is left to draft" : $"locum: {chosen.Count} identifiers are more than a module has ({FrameBinder.Most})");
        error.WriteLine("  mend: name identifiers with --id, or captures without the module with --without");
        return null;
    }

    // On the bus of the same name, or on any when the other capture names its buses otherwise.
    private static bool IsMissing(Recording without, FrameSeries series) =>
        !without.Series.Any(s => s.Id == series.Id && (s.BusName == series.BusName || !without.Buses.Contains(series.BusName)));
}
