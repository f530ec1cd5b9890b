namespace Locum.Comparing;

/// <summary>One bit of an identifier in the captures of one kind.</summary>
/// <param name="Steps">Steps between neighbours.</param>
/// <param name="Changes">Those in which it changed.</param>
/// <param name="Quiet">The most steps in a row without a change.</param>
/// <param name="Always">Its value when it never changes and is the same in all captures; otherwise null.</param>
/// <param name="Captures">Captures that have it.</param>
/// <param name="Living">Captures in which it changes.</param>
internal readonly record struct BitStats(int Steps, int Changes, int Quiet, bool? Always, int Captures, int Living)
{
    /// <summary>Changes that count for themselves: not more than the times that the longest rest fits in.</summary>
    public double Signs => Math.Min(Changes, (double)Steps / Math.Max(1, Quiet));

    public static BitStats Of(SideStats side, int position)
    {
        var (steps, changes, longest, captures, living) = (0, 0, 0, 0, 0);
        bool? always = null;
        var mixed = false;
        foreach (var capture in side.Captures.Where(c => c.Count > 0))
        {
            var series = capture.Series!;
            bool? before = null;
            var (quiet, own) = (0, 0);
            for (var i = 0; i < series.Count; i++)
            {
                if (series.Lengths[i] <= position / 8)
                    continue;
                var now = (series.Data(i)[position / 8] >> (position % 8) & 1) is not 0;
                if (before is { } last)
                {
                    steps++;
                    own += last != now ? 1 : 0;
                    quiet = last != now ? 0 : quiet + 1;
                    longest = Math.Max(longest, quiet);
                }
                mixed |= always is { } other && other != now;
                always ??= now;
                before = now;
            }
            captures += before is null ? 0 : 1;
            living += own > 0 ? 1 : 0;
            changes += own;
        }
        return new BitStats(steps, changes, longest, mixed ? null : always, captures, living);
    }
}
