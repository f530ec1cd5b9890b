namespace Locum.Inference.Checksums;

/// <summary>Counts the rules tried in each family.</summary>
internal sealed class Tally
{
    private readonly double[] _tried = new double[Enum.GetValues<RuleFamily>().Length];

    /// <summary>Number of families.</summary>
    public int Families => _tried.Length;

    /// <summary>All rules.</summary>
    public double Total => _tried.Sum();

    /// <summary>Places, counted for each length.</summary>
    public int Places { get; private set; }

    /// <summary>Rules of a family; at least 1.</summary>
    public double this[RuleFamily family] => Math.Max(1, _tried[(int)family]);

    /// <summary>Counts the rules of a search space.</summary>
    public void Add(SearchSpace space)
    {
        Places += space.Small.Count + space.Wide.Count;
        for (int i = 0; i < _tried.Length; i++)
            _tried[i] += space.Rules[i];
    }

    /// <summary>Counts rules of a family.</summary>
    public void Add(RuleFamily family, double rules) => _tried[(int)family] += rules;
}
