using Locum.Diagnostics;
using Locum.Model;
using Locum.Text;

namespace Locum.Binding;

/// <summary>What has been bound so far; later parts look names up here.</summary>
internal sealed class Bound(DiagnosticBag diagnostics)
{
    public DiagnosticBag Diagnostics { get; } = diagnostics;

    public List<Bus> Buses { get; } = [];

    public List<Input> Inputs { get; } = [];

    public List<ReceivedFrame> Receives { get; } = [];

    /// <summary>Names of all modes, known before their contents are bound.</summary>
    public List<string> ModeNames { get; } = [];

    /// <summary>Names of all frames, known before their contents are bound.</summary>
    public List<string> FrameNames { get; } = [];

    /// <summary>The distance between all releases of the frame that is being bound; 0 when it varies.</summary>
    public long SteadyPeriodUs { get; set; }

    /// <summary>Index of the modes marked as sleep.</summary>
    public HashSet<int> Sleeping { get; } = [];

    public List<Counter> Counters { get; } = [];

    /// <summary>Index of a name in a list; -1 (and a finding) when it is not there.</summary>
    public int Find(IReadOnlyList<string> names, string name, Span span, Code code, string what)
    {
        for (var i = 0; i < names.Count; i++)
            if (names[i] == name)
                return i;
        Diagnostics.Add(code, span, $"there is no {what} '{Printable.Short(name)}'", Nearest.Mend(name, [.. names], what));
        return -1;
    }

    /// <summary>Reports names that would be one C identifier.</summary>
    public void CheckClashes(IEnumerable<(string Name, Span Span)> names, string what) => Names.CheckClashes(names, what, Diagnostics);
}
