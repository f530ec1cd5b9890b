using System.Reflection;

namespace Locum.Pipeline;

/// <summary>The program's own version.</summary>
public static class Versions
{
    public static string Generator { get; } =
        typeof(Versions).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion.Split('+')[0] ?? "0";
}
