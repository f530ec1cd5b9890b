using System.IO.Compression;
using Locum.Diagnostics;
using Locum.Text;

namespace Locum.Capture;

/// <summary>Opens captures, compressed or not.</summary>
internal static class CaptureFile
{
    private const byte Gzip0 = 0x1F;
    private const byte Gzip1 = 0x8B;

    // Otherwise a file that was cut off would read like one that ends there.
    static CaptureFile() => AppContext.SetSwitch("System.IO.Compression.UseStrictValidation", true);

    /// <summary>Opens a file for reading from front to back; null (and a finding) when that fails.</summary>
    public static Stream? Open(string path, DiagnosticBag diagnostics)
    {
        var start = Span.Start(path);
        try
        {
            if (Directory.Exists(path))
                diagnostics.Add(Codes.CannotRead, start, "this is a folder, not a file", "name the capture");
            else if (!File.Exists(path))
                diagnostics.Add(Codes.CannotRead, start, "there is no such file", "check the path");
            else
                return new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, 0, FileOptions.SequentialScan);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            diagnostics.Add(Codes.CannotRead, start, e.Message.TrimEnd('.'), "check the path and its permissions");
        }

        return null;
    }

    /// <summary>A window over the stream, or over what is compressed in it.</summary>
    /// <param name="stream">The file.</param>
    /// <param name="oddities">Counts damage.</param>
    /// <param name="progress">Told bytes of the file read, and its length.</param>
    public static ByteSource Unpack(Stream stream, Oddities oddities, Action<long, long>? progress)
    {
        long length = stream.CanSeek ? stream.Length : 0;
        var told = progress is null ? stream : new WatchedStream(stream, read => progress(read, length));
        var head = new byte[2];
        int read = told.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        var whole = new PrefixedStream(head.AsMemory(0, read), told);
        bool packed = read is 2 && head[0] is Gzip0 && head[1] is Gzip1;
        return new ByteSource(packed ? new GZipStream(whole, CompressionMode.Decompress) : whole, oddities);
    }
}
