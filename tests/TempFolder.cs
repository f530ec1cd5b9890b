namespace Locum.Tests;

/// <summary>A folder that goes away with the test.</summary>
internal sealed class TempFolder : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("locum-test-");

    public string Path(params string[] parts) => System.IO.Path.Combine([_folder.FullName, .. parts]);

    public void Dispose() => _folder.Delete(recursive: true);
}
