using System.Text;

namespace Locum.Capture;

/// <summary>Names and counts of the buses of a capture, numbered in the order in which they are first named.</summary>
/// <param name="sink">Told the names.</param>
internal sealed class BusBook(IBusSink? sink)
{
    /// <summary>More buses than this share the last number: a column of numbers was taken for one of buses.</summary>
    public const int Most = 256;

    /// <summary>The one bus of a capture that names none.</summary>
    public static ReadOnlySpan<byte> Unnamed => "bus"u8;

    private readonly List<byte[]> _names = [];
    private long[] _frames = new long[4];
    private long[] _remotes = new long[4];
    private long[] _errors = new long[4];
    private int _last;

    public IReadOnlyList<BusCount> All =>
        [.. _names.Select((n, i) => new BusCount(Encoding.UTF8.GetString(n), _frames[i], _remotes[i], _errors[i]))];

    public int Number(ReadOnlySpan<byte> name)
    {
        if (_last < _names.Count && name.SequenceEqual(_names[_last]))
            return _last;
        for (int i = 0; i < _names.Count; i++)
        {
            if (name.SequenceEqual(_names[i]))
                return _last = i;
        }

        if (_names.Count == Most)
            return _last = Most - 1;
        _names.Add(name.ToArray());
        if (_names.Count > _frames.Length)
        {
            Array.Resize(ref _frames, _names.Count * 2);
            Array.Resize(ref _remotes, _names.Count * 2);
            Array.Resize(ref _errors, _names.Count * 2);
        }

        sink?.Bus(_names.Count - 1, Encoding.UTF8.GetString(name));
        return _last = _names.Count - 1;
    }

    public void Count(int bus, FrameTraits traits)
    {
        if ((traits & (FrameTraits.Remote | FrameTraits.Error)) is 0)
            _frames[bus]++;
        else if ((traits & FrameTraits.Error) is 0)
            _remotes[bus]++;
        else
            _errors[bus]++;
    }
}
