using System.Text;

namespace Locum.Cli;

/// <summary>Writing single files.</summary>
internal static class Files
{
    /// <summary>Writes beside the target, then moves: the target is either old or complete.</summary>
    /// <param name="path">The target.</param>
    /// <param name="write">Writes the whole file.</param>
    /// <param name="wanted">Asked at the end; false leaves the target as it was.</param>
    public static void WriteAtomically(string path, Action<Stream> write, Func<bool>? wanted = null)
    {
        var full = Path.GetFullPath(path);
        Directory.CreateDirectory(Path.GetDirectoryName(full)!);
        var fresh = $"{full}.new-{Environment.ProcessId}";
        try
        {
            using (var stream = File.Create(fresh))
                write(stream);
            if (wanted is null || wanted())
                File.Move(fresh, full, overwrite: true);
        }
        finally
        {
            File.Delete(fresh);
        }
    }

    /// <summary>Replaces a text, through links and with the permissions that the file has.</summary>
    public static void Replace(string path, string text)
    {
        var target = File.ResolveLinkTarget(path, returnFinalTarget: true)?.FullName ?? path;
        UnixFileMode? mode = OperatingSystem.IsWindows() ? null : File.GetUnixFileMode(target);
        WriteAtomically(target, stream => stream.Write(Encoding.UTF8.GetBytes(text)));
        if (!OperatingSystem.IsWindows() && mode is { } before)
            File.SetUnixFileMode(target, before);
    }
}
