namespace Locum.Reviewing;

/// <summary>What git asks of a diff driver: a path and two files.</summary>
public static class Driver
{
    /// <summary>The text for the screen: differences in meaning, or those of lines where a file is none of the language's or unusable.</summary>
    /// <param name="path">The file's path in the working tree, for its neighbours.</param>
    /// <param name="scratch">An empty folder.</param>
    public static string Show(string path, string before, string after, string scratch)
    {
        if (!IsThere(before) || !IsThere(after)
            || Load(path, before, Path.Combine(scratch, "before")) is not { Subject: { } old }
            || Load(path, after, Path.Combine(scratch, "after")) is not { Subject: { } now }
            || old.IsStimulus != now.IsStimulus)
            return Git.Lines(before, after);
        var text = new StringWriter();
        text.Write($"{path}\n");
        var review = Review.Of(old, now);
        ReviewText.Write(text, review);
        if (review.Changes.Count is 0)
            text.Write("no difference in meaning\n");
        return text.ToString();
    }

    // git gives a file by itself; the files that a project names are taken from beside the path.
    private static Side Load(string path, string file, string scratch)
    {
        Directory.CreateDirectory(scratch);
        var beside = Path.GetDirectoryName(Path.GetFullPath(path))!;
        if (Path.GetFileName(path) is Pipeline.Loader.ProjectFile && Directory.Exists(beside))
            foreach (var neighbour in Directory.EnumerateFiles(beside, "*.yaml"))
                File.Copy(neighbour, Path.Combine(scratch, Path.GetFileName(neighbour)), overwrite: true);
        var copy = Path.Combine(scratch, Path.GetFileName(path));
        File.Copy(file, copy, overwrite: true);
        return Side.Load(copy, "");
    }

    private static bool IsThere(string file) => File.Exists(file) && file is not "/dev/null" and not "nul";
}
