namespace Locum.Model;

/// <summary>What a column of a table of frames means.</summary>
public enum ColumnRole
{
    /// <summary>Nothing that matters here.</summary>
    Other,

    /// <summary>A number, a time of day, or date and time of day.</summary>
    Time,

    /// <summary>The date to a time of day in another column.</summary>
    Date,

    /// <summary>Digits behind the decimal mark of the column before.</summary>
    Fraction,

    /// <summary>The identifier.</summary>
    Id,

    /// <summary>Whether the identifier has 29 bits.</summary>
    Extended,

    /// <summary>Name or number of the bus.</summary>
    Bus,

    /// <summary>Number of data bytes.</summary>
    Length,

    /// <summary>All data bytes.</summary>
    Data,

    /// <summary>The first data byte; the others follow in columns of their own, as many as there are.</summary>
    Bytes,

    /// <summary>The next data byte.</summary>
    Byte,

    /// <summary>Words for the kind of frame, such as d and r.</summary>
    Kind,

    /// <summary>Whether it is a remote frame.</summary>
    Remote,

    /// <summary>Whether it is an error.</summary>
    Error,

    /// <summary>Whether it is CAN FD.</summary>
    Fd,

    /// <summary>Whether the rate was switched.</summary>
    RateSwitched,

    /// <summary>Whether the sender was error passive.</summary>
    ErrorPassive,
}
