namespace Locum.Cli;

/// <summary>What the program's exit code says.</summary>
internal static class ExitCode
{
    public const int Fine = 0;
    public const int Findings = 1;
    public const int Unusable = 2;
    public const int Fault = 3;
}
