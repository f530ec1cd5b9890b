namespace Locum.Cli;

/// <summary>Writing single files.</summary>
internal static class Files
{
    /// <summary>Writes beside the target, then moves: the target is either old or complete.</summary>
    public static void WriteAtomically(string path, Action<Stream> write)
    {
        var full = Path.GetFullPath(path);
        Directory.CreateDirectory(Path.GetDirectoryName(full)!);
        var fresh = $"{full}.new-{Environment.ProcessId}";
        try
        {
            using (var stream = File.Create(fresh))
                write(stream);
            File.Move(fresh, full, overwrite: true);
        }
        finally
        {
            File.Delete(fresh);
        }
    }
}
