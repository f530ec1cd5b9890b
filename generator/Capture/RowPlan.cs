using Locum.Model;

namespace Locum.Capture;

/// <summary>How the rows of a table are read.</summary>
internal sealed record RowPlan
{
    /// <summary>The byte between columns; a blank stands for any run of blanks and tabs.</summary>
    public required byte Separator { get; init; }

    /// <summary>Meaning of the columns, by position.</summary>
    public required IReadOnlyList<ColumnRole> Roles { get; init; }

    /// <summary>How times are written; null when there are none.</summary>
    public TimeUnit? Unit { get; init; }

    /// <summary>Decimal point or comma.</summary>
    public byte Mark { get; init; } = (byte)'.';

    public NumberBase IdBase { get; init; } = NumberBase.Hex;

    public NumberBase LengthBase { get; init; } = NumberBase.Decimal;

    public NumberBase DataBase { get; init; } = NumberBase.Hex;

    public IdKindRule IdKind { get; init; } = IdKindRule.ByValue;

    /// <summary>Data are written as one number, so that zeros in front are missing.</summary>
    public bool DataIsNumber { get; init; }

    /// <summary>Dates such as 03/04/2024 have the month in front.</summary>
    public bool MonthFirst { get; init; }

    /// <summary>Name of the bus when no column names it.</summary>
    public byte[] Bus { get; init; } = BusBook.Unnamed.ToArray();

    public bool IsBlanks => Separator is (byte)' ';

    /// <summary>Position of a column; -1 when there is none of that meaning.</summary>
    public int Find(ColumnRole role)
    {
        for (int i = 0; i < Roles.Count; i++)
        {
            if (Roles[i] == role)
                return i;
        }

        return -1;
    }
}
