using System.ComponentModel;
using System.Diagnostics;
using System.Formats.Tar;
using Locum.Syntax;

namespace Locum.Reviewing;

/// <summary>Something that can be said to the user about git or a revision.</summary>
public sealed class GitException(string message, string mend) : Exception(message)
{
    public string Mend { get; } = mend;
}

/// <summary>Reads revisions through the git program.</summary>
public static class Git
{
    /// <summary>The program; a test puts another name here.</summary>
    internal static string Program { get; set; } = "git";

    /// <summary>Writes all YAML files of a revision into a folder, and returns the path of one of them, or of a folder of them.</summary>
    /// <param name="folder">Where git is asked; its repository counts.</param>
    /// <param name="path">Below the repository's root, with '/'; empty for the root. With "./" before it, below <paramref name="folder"/>.</param>
    /// <exception cref="GitException">There is no git, no repository, no such revision or no such path.</exception>
    public static string Extract(string folder, string revision, string path, string target)
    {
        var root = Ask(folder, ["rev-parse", "--show-toplevel"], "this is not inside a git repository", "run it in a working tree, or compare files").Trim();
        var prefix = path is "." || path.StartsWith("./", StringComparison.Ordinal) ? Ask(folder, ["rev-parse", "--show-prefix"], "git does not tell where it is", "compare files").Trim() : "";
        var below = Normal(prefix + path);
        if (revision.StartsWith('-'))
            throw new GitException($"'{revision}' is not a revision", "name a commit, a tag or a branch");
        Ask(root, ["rev-parse", "--verify", "--quiet", "--end-of-options", $"{revision}^{{commit}}"], $"git knows no revision '{revision}'", "name a commit, a tag or a branch, such as HEAD~1");
        Ask(root, ["cat-file", "-e", $"{revision}:{below}"], $"there is no '{below}' in revision '{revision}'", "the path counts from the repository's root; with './' before it, from here");
        using var process = Start(root, ["archive", "--format=tar", revision, "--", ":(glob)**/*.yaml"]);
        var errors = process.StandardError.ReadToEndAsync();
        Unpack(process.StandardOutput.BaseStream, target);
        process.WaitForExit();
        if (process.ExitCode is not 0)
            throw new GitException($"git cannot list revision '{revision}': {errors.Result.Trim()}", "check that the revision has YAML files");
        return Path.Combine(target, below.Replace('/', Path.DirectorySeparatorChar));
    }

    /// <summary>The lines that differ between two files, as git shows them.</summary>
    /// <exception cref="GitException">There is no git.</exception>
    public static string Lines(string before, string after)
    {
        using var process = Start(".", ["diff", "--no-index", "--no-ext-diff", "--", before, after]);
        var errors = process.StandardError.ReadToEndAsync();
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        _ = errors.Result;
        return text;
    }

    private static string Ask(string folder, string[] arguments, string message, string mend)
    {
        using var process = Start(folder, arguments);
        var errors = process.StandardError.ReadToEndAsync();
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        _ = errors.Result;
        return process.ExitCode is 0 ? text : throw new GitException(message, mend);
    }

    private static Process Start(string folder, string[] arguments)
    {
        try
        {
            return Process.Start(new ProcessStartInfo(Program, arguments)
            {
                WorkingDirectory = folder,
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            })!;
        }
        catch (Win32Exception)
        {
            throw new GitException("the program 'git' was not found", "install git, or compare files instead of revisions");
        }
    }

    private static void Unpack(Stream stream, string target)
    {
        Directory.CreateDirectory(target);
        using var tar = new TarReader(stream);
        while (tar.GetNextEntry() is { } entry)
        {
            var path = Path.GetFullPath(Path.Combine(target, entry.Name));
            if (entry.EntryType is not (TarEntryType.RegularFile or TarEntryType.V7RegularFile) || entry.Length > SyntaxReader.MaxBytes
                || !path.StartsWith(Path.GetFullPath(target) + Path.DirectorySeparatorChar, StringComparison.Ordinal))
                continue;
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            entry.ExtractToFile(path, overwrite: true);
        }
    }

    private static string Normal(string path)
    {
        var parts = new List<string>();
        foreach (var part in path.Replace('\\', '/').Split('/', StringSplitOptions.RemoveEmptyEntries).Where(p => p is not "."))
        {
            if (part is ".." && parts.Count > 0)
                parts.RemoveAt(parts.Count - 1);
            else
                parts.Add(part);
        }
        return string.Join('/', parts);
    }
}
