namespace Locum.Auditing;

/// <summary>A while in which a module certainly was in one of some modes without leaving them, µs.</summary>
/// <param name="FromUs">Where it begins at the latest.</param>
/// <param name="UntilUs">Where it ends at the earliest.</param>
/// <param name="FirstUs">The first frame that tells of it.</param>
/// <param name="LastUs">The last one.</param>
/// <param name="SeenUs">The time of which the last one speaks at least.</param>
internal readonly record struct Stay(long FromUs, long UntilUs, long FirstUs, long LastUs, long SeenUs)
{
    public bool Holds(long from, long until) => FromUs <= from && until <= UntilUs;
}
