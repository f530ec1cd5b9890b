using Locum.Model;
using Locum.Simulation;

namespace Locum.Auditing;

/// <summary>What a module may know of its received frames when it composes a payload.</summary>
internal sealed class ReceivedChoice(IReadOnlyList<Hearing> hearings, long fromUs, long untilUs)
{
    /// <summary>More combinations than this are not tried.</summary>
    private const int Most = 64;

    public IReadOnlyList<Hearing> Hearings => hearings;

    public Heard Of(int row) => hearings[row].Over(fromUs, untilUs);

    /// <summary>Every state that some of the rows can be in together; null when nobody can tell, or there are too many.</summary>
    public IEnumerable<IReadOnlyList<ReceivedState>>? States(IReadOnlyList<int> rows)
    {
        var none = hearings.Select(h => new ReceivedState(h.Row)).ToArray();
        if (rows.Count is 0)
            return [none];
        var options = new List<(int Row, List<ReceivedState> States)>();
        var combinations = 1L;
        foreach (var row in rows)
        {
            var heard = Of(row);
            if (heard.MayBeUnknown)
                return null;
            var states = new List<ReceivedState>();
            if (heard.MayBeLost)
                states.Add(new ReceivedState(hearings[row].Row));
            for (var i = heard.First; i < heard.End && states.Count <= Most; i++)
            {
                var state = new ReceivedState(hearings[row].Row);
                state.Receive(hearings[row].Data(i).ToArray(), 0);
                states.Add(state);
            }
            options.Add((row, states));
            combinations *= states.Count;
            if (combinations > Most)
                return null;
        }
        return Combine(none, options, (int)combinations);
    }

    private static IEnumerable<IReadOnlyList<ReceivedState>> Combine(ReceivedState[] none, List<(int Row, List<ReceivedState> States)> options, int combinations)
    {
        for (var number = 0; number < combinations; number++)
        {
            var states = (ReceivedState[])none.Clone();
            var rest = number;
            foreach (var (row, choices) in options)
            {
                states[row] = choices[rest % choices.Count];
                rest /= choices.Count;
            }
            yield return states;
        }
    }
}
