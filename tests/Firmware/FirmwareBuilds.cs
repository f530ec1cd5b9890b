using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using Locum.Rendering;

namespace Locum.Tests.Firmware;

/// <summary>Built firmware projects: many tests run the same one with other stimuli.</summary>
internal static class FirmwareBuilds
{
    private static readonly string s_folder = KeptBuilds.Folder("firmware");
    private static readonly ConcurrentDictionary<string, Lazy<(string Folder, string Log)>> s_builds = [];

    /// <summary>The folder in which a project was built, and what the build said.</summary>
    /// <param name="build">Builds the project that it is given the folder of.</param>
    public static (string Folder, string Log) Of(string kind, IReadOnlyList<OutputFile> files, Func<string, IReadOnlyList<OutputFile>, string> build) =>
        s_builds.GetOrAdd(Key(kind, files), key => new(() =>
        {
            var folder = Path.Combine(s_folder, key);
            return (folder, build(folder, files));
        })).Value;

    private static string Key(string kind, IReadOnlyList<OutputFile> files) =>
        Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(kind + string.Concat(files.Select(f => $"\0{f.Path}\0{f.Text}")))))[..16];
}
