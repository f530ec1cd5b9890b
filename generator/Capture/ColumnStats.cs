using System.Text.RegularExpressions;

namespace Locum.Capture;

/// <summary>What the fields of a column have in common.</summary>
internal sealed partial class ColumnStats
{
    private const double Nearly = 0.95;

    public ColumnStats(IReadOnlyList<string> fields)
    {
        Fields = fields;
        Filled = [.. fields.Where(f => f.Length > 0)];
        Distinct = Filled.Distinct(StringComparer.Ordinal).Count();
        var digits = Filled.Select(Token.IdDigits).ToList();
        IdShare = Share(Filled.Count(Token.IsId));
        Widths = [.. digits.OfType<string>().Select(d => d.Length).Distinct().Order()];
        HasLetters = digits.OfType<string>().Any(d => d.Any(char.IsAsciiLetter));
        HasPrefix = Filled.Any(f => f.StartsWith("0x", StringComparison.OrdinalIgnoreCase) || f[^1] is 'h' or 'H');
        HasMark = Filled.Any(f => f.Length > 1 && f[^1] is 'x' or 'X' && Token.IsId(f));
        ByteShare = Share(Filled.Count(Token.IsByte));
        LengthShare = Share(Filled.Count(f => Token.Length(f) >= 0));
        IntegerShare = Share(Filled.Count(Token.IsInteger));
        ClockShare = Share(Filled.Count(f => Token.IsClock(f)));
        DateShare = Share(Filled.Count(Token.IsDate));
        BusNameShare = Share(Filled.Count(f => BusName().IsMatch(f)));
        DirectionShare = Share(Filled.Count(f => Direction().IsMatch(f)));
        KindShare = Share(Filled.Count(f => KindWords.Traits(f) is not null));
        Numbers = [.. Filled.Select(Token.Decimal)];
        DecimalShare = Share(Numbers.Count(n => n is not null));
        FractionShare = Share(Filled.Count(f => Token.FractionDigits(f) > 0));
        Steps = [.. Numbers.Zip(Numbers.Skip(1), (a, b) => b - a).OfType<decimal>()];
        Rising = Steps.Count is 0 ? 0 : (double)Steps.Count(s => s >= 0) / Steps.Count;
        IsRowNumber = Steps.Count > 1 && Steps.Count(s => s is 1) >= Nearly * Steps.Count && FractionShare is 0;
    }

    /// <summary>Fields of all typical rows, empty ones included.</summary>
    public IReadOnlyList<string> Fields { get; }

    public IReadOnlyList<string> Filled { get; }

    public int Distinct { get; }

    /// <summary>Share of filled fields that could be an identifier.</summary>
    public double IdShare { get; }

    /// <summary>Numbers of digits of those, rising.</summary>
    public IReadOnlyList<int> Widths { get; }

    /// <summary>Some have the digits A to F.</summary>
    public bool HasLetters { get; }

    /// <summary>Some have 0x in front or h behind.</summary>
    public bool HasPrefix { get; }

    /// <summary>Some have an x behind.</summary>
    public bool HasMark { get; }

    public double ByteShare { get; }

    public double LengthShare { get; }

    public double IntegerShare { get; }

    public double ClockShare { get; }

    public double DateShare { get; }

    public double BusNameShare { get; }

    public double DirectionShare { get; }

    public double KindShare { get; }

    public double DecimalShare { get; }

    public double FractionShare { get; }

    public IReadOnlyList<decimal?> Numbers { get; }

    /// <summary>Differences between neighbours.</summary>
    public IReadOnlyList<decimal> Steps { get; }

    /// <summary>Share of steps that do not fall.</summary>
    public double Rising { get; }

    /// <summary>Rises by one from row to row.</summary>
    public bool IsRowNumber { get; }

    public bool IsEmpty => Filled.Count is 0;

    private double Share(int count) => Filled.Count is 0 ? 0 : (double)count / Filled.Count;

    [GeneratedRegex(@"^[A-Za-z]+[ _\-]?\d{1,2}$")]
    private static partial Regex BusName();

    [GeneratedRegex("^(rx|tx|r|t|in|out|receive|received|transmit|transmitted|sent|rxd|txd|<|>|<-|->)$", RegexOptions.IgnoreCase)]
    private static partial Regex Direction();
}
