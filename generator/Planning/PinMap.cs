using Locum.Boards;
using Locum.Diagnostics;
using Locum.Text;

namespace Locum.Planning;

/// <summary>Hands out the pins of a board, each once.</summary>
internal sealed class PinMap(BoardKind kind, DiagnosticBag diagnostics)
{
    private readonly Dictionary<string, string> _taken = new(StringComparer.Ordinal);

    /// <summary>A pin for a job; null (and a finding) when it is unknown, reserved or taken.</summary>
    public PlannedPin? Take(string name, string job, Span span)
    {
        if (kind.Reserved.TryGetValue(name, out var reserved))
        {
            diagnostics.Add(Codes.UnknownPin, span, $"pin {name} is {reserved} on this board and cannot be {job}", $"use one of: {string.Join(", ", Free())}");
            return null;
        }
        if (!kind.Pins.TryGetValue(name, out var port))
        {
            diagnostics.Add(Codes.UnknownPin, span, $"'{Printable.Short(name)}' is not a pin of {kind.Name}", Nearest.Mend(name, [.. Free()], "free pin"));
            return null;
        }
        if (!_taken.TryAdd(name, job))
        {
            diagnostics.Add(Codes.PinTaken, span, $"pin {name} is both {_taken[name]} and {job}", $"use one of: {string.Join(", ", Free())}");
            return null;
        }
        return new PlannedPin(name, port);
    }

    public bool IsFree(string name) => !_taken.ContainsKey(name);

    /// <summary>Pins that have no job yet.</summary>
    public IEnumerable<string> Free() => kind.FreePins.Where(IsFree);
}
