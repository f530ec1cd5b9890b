namespace Locum.Capture;

/// <summary>A sink that wants to know the names of buses before their first entries.</summary>
public interface IBusSink : IFrameSink
{
    /// <summary>A bus that the capture names for the first time.</summary>
    /// <param name="number">Rises by one from 0.</param>
    /// <param name="name">As the capture gives it.</param>
    void Bus(int number, string name);
}
