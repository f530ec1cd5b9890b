using Xunit;

namespace Locum.Tests.Firmware;

/// <summary>Holds figures against a file of the repository.</summary>
internal static class Committed
{
    /// <summary>Fails when a figure has moved. With LOCUM_ACCEPT=1 it writes the new figures and fails once, so that nobody accepts by accident.</summary>
    public static void Hold(string path, FigureTable table)
    {
        var before = File.Exists(path) ? File.ReadAllText(path) : "";
        var differences = table.Differences(before);
        if (differences.Count is 0)
            return;
        var accept = Environment.GetEnvironmentVariable("LOCUM_ACCEPT") is "1";
        if (accept)
            File.WriteAllText(path, table.ToString());
        Assert.Fail($"""
            Figures have moved by more than 2 %:
            {string.Join('\n', differences)}

            committed in {path}:
            {before}
            measured:
            {table}
            {(accept ? "The file now holds the measured figures: look at the change, then commit it." : "If that is intended, run the test with LOCUM_ACCEPT=1; it writes the file and fails once.")}
            """);
    }
}
