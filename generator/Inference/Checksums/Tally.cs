namespace Locum.Inference.Checksums;

/// <summary>Counts the hypotheses of each family.</summary>
internal sealed class Tally
{
    private readonly double[] _tried = new double[Enum.GetValues<RuleFamily>().Length];
    private readonly HashSet<ChecksumPlace> _places = [];

    /// <summary>Number of families.</summary>
    public int Families => _tried.Length;

    /// <summary>All hypotheses.</summary>
    public double Total => _tried.Sum();

    /// <summary>Different places.</summary>
    public int Places => _places.Count;

    /// <summary>Hypotheses of a family; at least 1.</summary>
    public double this[RuleFamily family] => Math.Max(1, _tried[(int)family]);

    /// <summary>Counts hypotheses at a place.</summary>
    public void Add(RuleFamily family, ChecksumPlace place, double rules)
    {
        _tried[(int)family] += rules;
        _places.Add(place);
    }
}
