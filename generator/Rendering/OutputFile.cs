using System.Text;

namespace Locum.Rendering;

/// <summary>A file of a firmware project, in memory.</summary>
/// <param name="Path">Relative to the project's folder, with '/' between folders.</param>
public sealed record OutputFile(string Path, string Text)
{
    /// <summary>Writes the file below a folder, UTF-8 without a mark; returns its bytes.</summary>
    public byte[] Save(string folder)
    {
        var path = System.IO.Path.Combine(folder, Path.Replace('/', System.IO.Path.DirectorySeparatorChar));
        var bytes = Encoding.UTF8.GetBytes(Text);
        Directory.CreateDirectory(System.IO.Path.GetDirectoryName(path)!);
        File.WriteAllBytes(path, bytes);
        return bytes;
    }
}
