namespace Locum.Schema;

/// <summary>What may stand behind a key. A shape speaks of one place only; what spans places is the validators' work.</summary>
public abstract record Shape;

/// <summary>Nothing behind the colon.</summary>
public sealed record Nothing : Shape;

/// <summary>Any single value, taken as text: prose, a unit, the name of something.</summary>
public sealed record AnyText : Shape;

/// <summary>A text that becomes a name in the generated C.</summary>
public sealed record NameText : Shape;

/// <summary>One of a few words.</summary>
public sealed record Words(params IReadOnlyList<string> List) : Shape;

/// <summary>A whole number, decimal or hexadecimal.</summary>
public sealed record Whole(long Min, long Max) : Shape;

/// <summary>A decimal number, or a whole one in hexadecimal.</summary>
public sealed record Numeric : Shape;

/// <summary>A physical value or the name of one.</summary>
public sealed record PhysicalValue : Shape;

/// <summary>A number with a unit.</summary>
/// <param name="Units">Every spelling, the preferred one of equals first.</param>
public sealed record Amount(params IReadOnlyList<string> Units) : Shape
{
    /// <summary>A minus sign may stand before it.</summary>
    public bool Signed { get; init; }
}

/// <summary>A row of bytes, two hexadecimal digits each; or a list of numbers.</summary>
public sealed record ByteRow : Shape;

/// <summary>A single value with a syntax of its own.</summary>
/// <param name="Expression">Regular expression (ECMA-262) for the whole text.</param>
public sealed record Patterned(string Expression) : Shape;

/// <summary>A list.</summary>
public sealed record ListOf(Shape Item, int Most, int Least = 0) : Shape;

/// <summary>Names with a value each; the names are the author's.</summary>
/// <param name="Block">True for sections, which are always written with a line per name.</param>
public sealed record MapOf(Shape Value, int Least, int Most, NameRule Names, bool Block) : Shape;

/// <summary>A mapping with keys of the language.</summary>
public sealed record Mapping(Section Section) : Shape;

/// <summary>One of several shapes, told apart by kind of node; of several for single values the first that fits.</summary>
public sealed record Either(params IReadOnlyList<Shape> Shapes) : Shape;

/// <summary>What the names in a mapping may be.</summary>
public enum NameRule
{
    /// <summary>Anything; they refer to something, or stay in the description.</summary>
    Free,

    /// <summary>What can become a part of a C name.</summary>
    Name,

    /// <summary>The same without spaces, since it names a folder as well.</summary>
    Folder,
}
