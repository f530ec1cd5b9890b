using System.Text;

namespace Locum.Tests.Properties;

/// <summary>Random modes: every one reachable by time or conditions, no two of them chase each other.</summary>
internal sealed class ModeText
{
    private readonly List<DrawnMode> _modes = [];
    private readonly IReadOnlyList<Watched> _watched;

    private ModeText(IReadOnlyList<Watched> watched) => _watched = watched;

    /// <summary>The lines of the description; empty when the modes are left out.</summary>
    public string Text { get; private set; } = "";

    public IReadOnlyList<string> Names => [.. _modes.Select(m => m.Name)];

    /// <summary>Names of modes that are entered and not asleep. Never empty.</summary>
    public IReadOnlyList<string> Sending { get; private set; } = [];

    public IReadOnlyList<string> Awake => [.. _modes.Where(m => !m.Sleep).Select(m => m.Name)];

    public static ModeText Draw(Dice dice, World world, IReadOnlyList<WorldInput> inputs, IReadOnlyList<DrawnReceive> received)
    {
        var modes = new ModeText([.. inputs.Select(i => Watched.Of(i)), .. dice.Some(received, 0).Take(2).Select(r => Watched.Of(dice, r))]);
        modes.Connect(dice, world);
        modes.Unchain();
        modes.Settle(dice);
        if (modes._modes.Count > 1 || dice.Chance(50))
            modes.Text = modes.Write(dice);
        return modes;
    }

    private void Connect(Dice dice, World world)
    {
        string[] names = ["running", "off", "other", "while", "Nachlauf", "x-1"];
        for (var i = dice.Chance(15) ? 1 : dice.Between(2, 6); i > 0; i--)
            _modes.Add(new DrawnMode(names[_modes.Count]));
        for (var i = 1; i < _modes.Count; i++)
        {
            var from = _modes[_watched.Count is 0 ? i - 1 : dice.Between(0, i - 1)];
            if (_watched.Count is 0 || (from.Then < 0 && dice.Chance(40)))
                Stay(from, i);
            else
                Exit(from, i);
        }
        if (_modes.Count is 1)
            return;
        for (var i = dice.Between(0, 4); i > 0; i--)
        {
            var from = dice.Between(0, _modes.Count - 1);
            var to = (from + dice.Between(1, _modes.Count - 1)) % _modes.Count;
            if (_modes[from].Then < 0 && (_watched.Count is 0 || dice.Chance(50)))
                Stay(_modes[from], to);
            else if (_watched.Count > 0)
                Exit(_modes[from], to);
        }

        void Stay(DrawnMode mode, int then)
        {
            mode.Then = then;
            mode.ForUs = world.Pace * dice.Between(0, 9) switch
            {
                0 => dice.Between(300, 999),
                1 => dice.Between(2_000_000, 40_000_000),
                _ => dice.Time(1_000, 80_000),
            };
        }

        void Exit(DrawnMode mode, int then) => mode.Exits.Add((
            [.. dice.Some([.. Enumerable.Range(0, _watched.Count)], 1).Take(2).Select(i => (i, dice.Between(0, _watched[i].Tests.Count - 1)))], then));
    }

    // Removes conditions until no combination of what is watched leads round in a circle.
    private void Unchain()
    {
        var combinations = _watched.Aggregate(1, (n, w) => n * w.States);
        for (var number = 0; number < combinations; number++)
            for (var start = 0; start < _modes.Count; start++)
            {
                var seen = new HashSet<int>();
                for (var at = start; seen.Add(at);)
                {
                    var exit = _modes[at].Exits.FindIndex(e => e.When.All(w => Holds(number, w.Watched, w.Test)));
                    if (exit < 0)
                        break;
                    var next = _modes[at].Exits[exit].Then;
                    if (!seen.Contains(next))
                    {
                        at = next;
                        continue;
                    }
                    // What was hidden behind the removed condition may close another circle.
                    _modes[at].Exits.RemoveAt(exit);
                    number = 0;
                    seen.Clear();
                    at = start = 0;
                }
            }
    }

    private bool Holds(int number, int watched, int test)
    {
        for (var i = 0; i < watched; i++)
            number /= _watched[i].States;
        return _watched[watched].Tests[test].In.Contains(number % _watched[watched].States);
    }

    private void Settle(Dice dice)
    {
        var reached = new HashSet<int>();
        var open = new Stack<int>([0]);
        while (open.TryPop(out var mode))
            if (reached.Add(mode))
                foreach (var next in _modes[mode].Exits.Select(e => e.Then).Append(_modes[mode].Then).Where(n => n >= 0))
                    open.Push(next);
        foreach (var mode in _modes)
            mode.Sleep = dice.Chance(20);
        if (reached.All(r => _modes[r].Sleep))
            _modes[dice.Pick([.. reached])].Sleep = false;
        Sending = [.. reached.Where(r => !_modes[r].Sleep).Select(r => _modes[r].Name)];
    }

    private string Write(Dice dice)
    {
        var text = new StringBuilder("modes:\n");
        foreach (var mode in _modes)
        {
            text.Append($"  {mode.Name}:\n");
            if (mode.Sleep)
                text.Append("    sleep: yes\n");
            if (mode.Then >= 0)
                text.Append($"    for: {dice.Text(mode.ForUs)}\n    then: {_modes[mode.Then].Name}\n");
            if (mode.Exits.Count > 0)
                text.Append("    until:\n");
            foreach (var (when, then) in mode.Exits)
                text.Append($"      - {{{string.Join(", ", when.Select(w => _watched[w.Watched].Tests[w.Test].Text))}, then: {_modes[then].Name}}}\n");
        }
        return text.ToString();
    }

    private sealed class DrawnMode(string name)
    {
        public string Name { get; } = name;

        public bool Sleep { get; set; }

        public long ForUs { get; set; }

        public int Then { get; set; } = -1;

        public List<(List<(int Watched, int Test)> When, int Then)> Exits { get; } = [];
    }
}
