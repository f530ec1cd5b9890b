using Xunit;

namespace Locum.Tests.Golden;

/// <summary>Output as committed. To accept new output run the tests with LOCUM_ACCEPT=1, as for wrong descriptions.</summary>
internal static class Accepted
{
    /// <summary>Fails unless the text is that of the file, given by its parts below tests/Golden.</summary>
    public static void Equal(string actual, params string[] parts)
    {
        var file = RepoRoot.Path(["tests", "Golden", .. parts]);
        if (Environment.GetEnvironmentVariable("LOCUM_ACCEPT") is "1")
        {
            Directory.CreateDirectory(Path.GetDirectoryName(file)!);
            File.WriteAllText(file, actual);
            Assert.Fail($"accepted {parts[^1]}; run again without LOCUM_ACCEPT");
        }
        Assert.True(File.Exists(file), $"{file} is missing; accept it with LOCUM_ACCEPT=1");
        Assert.Equal(File.ReadAllText(file), actual);
    }
}
