using Locum.Binding;

namespace Locum.Schema;

/// <summary>Shapes that several keys share.</summary>
internal static class Shapes
{
    public static Shape Version { get; } = new Words(ModuleBinder.Version.ToString());

    public static Shape Text { get; } = new AnyText();

    public static Shape Name { get; } = new NameText();

    public static Shape YesNo { get; } = new Words("yes", "no", "true", "false");

    public static Shape Level { get; } = new Words("active", "inactive");

    public static Shape Number { get; } = new Numeric();

    public static Shape Bytes { get; } = new ByteRow();

    public static Shape Time { get; } = new Amount("us", "µs", "μs", "ms", "s", "min", "h");

    public static Shape Rate { get; } = new Amount("bit/s", "kbit/s", "Mbit/s");

    public static Shape Percent { get; } = new Amount("%");

    public static Shape Resistance { get; } = new Amount("mohm", "ohm", "kohm", "Mohm");

    public static Shape Current { get; } = new Amount("uA", "mA", "A");

    public static Shape Voltage { get; } = new Amount("mV", "V");

    public static Shape Power { get; } = new Amount("mW", "W");

    public static Shape Capacitance { get; } = new Amount("uF", "mF", "F");

    public static Shape Length { get; } = new Amount("mm", "cm", "m");

    public static Shape CrossSection { get; } = new Amount("mm2");

    public static Shape Temperature { get; } = new Amount("degC") { Signed = true };

    public static Shape Identifier { get; } = new Whole(0, 0x1FFF_FFFF);

    public static Shape IdentifierKind { get; } = new Words("11 bit", "29 bit");

    public static Shape Value { get; } = new PhysicalValue();

    public static Shape Format { get; } = new Words("classic", "fd");

    public static Shape OneOrMany(Shape item, int most = int.MaxValue, int least = 0) => new Either(item, new ListOf(item, most, least));

    /// <summary>A section: the author's names, each with a value, a line per name.</summary>
    public static Shape Named(Shape value, int most, int least = 0) => new Either(new MapOf(value, least, most, NameRule.Name, true), new Nothing());
}
