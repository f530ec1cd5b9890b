using System.Security.Cryptography;
using System.Text;
using Locum.Rendering;

namespace Locum.Pipeline;

/// <summary>Writes a set of files as one folder: all of it or nothing.</summary>
public static class OutputFolder
{
    /// <summary>Lists what a folder was generated with; its presence marks a folder that may be replaced.</summary>
    public const string Manifest = "locum-files.txt";

    /// <summary>Writes to a folder beside the target, then swaps the two. An older output of this program is replaced.</summary>
    /// <exception cref="IOException">The target exists and is something else, or cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">The target cannot be written.</exception>
    public static void Write(string target, IReadOnlyList<OutputFile> files)
    {
        target = Path.GetFullPath(target);
        if (File.Exists(target))
            throw new IOException($"'{target}' is a file");
        if (Directory.Exists(target) && Directory.EnumerateFileSystemEntries(target).Any() && !File.Exists(Path.Combine(target, Manifest)))
            throw new IOException($"'{target}' holds files that this program did not write");
        var parent = Path.GetDirectoryName(target)!;
        Directory.CreateDirectory(parent);
        var fresh = Path.Combine(parent, $".{Path.GetFileName(target)}.new-{Environment.ProcessId}");
        var old = Path.Combine(parent, $".{Path.GetFileName(target)}.old-{Environment.ProcessId}");
        try
        {
            Fill(fresh, files);
            if (Directory.Exists(target))
                Directory.Move(target, old);
            Directory.Move(fresh, target);
        }
        catch
        {
            if (!Directory.Exists(target) && Directory.Exists(old))
                Directory.Move(old, target);
            throw;
        }
        finally
        {
            Remove(fresh);
            Remove(old);
        }
    }

    /// <summary>Writes files that are the user's from now on into a folder that is new or empty: all of them or none.</summary>
    /// <exception cref="IOException">The target is a file, holds files, or cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">The target cannot be written.</exception>
    public static void Create(string target, IReadOnlyList<OutputFile> files)
    {
        target = Path.TrimEndingDirectorySeparator(Path.GetFullPath(target));
        RequireEmpty(target);
        var parent = Path.GetDirectoryName(target)!;
        Directory.CreateDirectory(parent);
        var fresh = Path.Combine(parent, $".{Path.GetFileName(target)}.new-{Environment.ProcessId}");
        try
        {
            foreach (var file in files)
                file.Save(fresh);
            if (Directory.Exists(target))
                MoveInto(target, fresh);
            else
                Directory.Move(fresh, target);
        }
        finally
        {
            Remove(fresh);
        }
    }

    /// <summary>Throws unless the target is new or an empty folder.</summary>
    /// <exception cref="IOException">The target is a file or holds files.</exception>
    public static void RequireEmpty(string target)
    {
        if (File.Exists(target))
            throw new IOException($"'{target}' is a file; name a new or an empty folder");
        if (Directory.Exists(target) && Directory.EnumerateFileSystemEntries(target).Any())
            throw new IOException($"'{target}' is not empty; name a new or an empty folder");
    }

    // The folder itself stays: somebody's shell may stand in it.
    private static void MoveInto(string target, string fresh)
    {
        var moved = new List<string>();
        try
        {
            foreach (var file in Directory.GetFiles(fresh))
            {
                var path = Path.Combine(target, Path.GetFileName(file));
                File.Move(file, path);
                moved.Add(path);
            }
        }
        catch
        {
            moved.ForEach(File.Delete);
            throw;
        }
    }

    private static void Fill(string folder, IReadOnlyList<OutputFile> files)
    {
        var manifest = new StringBuilder();
        foreach (var file in files)
            manifest.Append(Convert.ToHexStringLower(SHA256.HashData(file.Save(folder)))).Append("  ").Append(file.Path).Append('\n');
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, Manifest), manifest.ToString());
    }

    private static void Remove(string folder)
    {
        if (Directory.Exists(folder))
            Directory.Delete(folder, recursive: true);
    }
}
