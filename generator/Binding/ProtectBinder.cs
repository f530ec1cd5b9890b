using Locum.Diagnostics;
using Locum.Model;
using Locum.Protection;
using Locum.Syntax;
using Locum.Text;
using Locum.Wire;

namespace Locum.Binding;

/// <summary>Expands a frame's end-to-end protection into fields: constants, a counter, a checksum computed last.</summary>
internal static class ProtectBinder
{
    private static readonly Dictionary<string, E2EProfile> s_profiles = E2EProfile.All.ToDictionary(p => p.Name, StringComparer.Ordinal);

    /// <param name="fields">The frame's own fields, whose names stay apart from those added.</param>
    /// <returns>The protection and the fields to add; none (and findings) when it is unusable.</returns>
    public static (FrameProtection? Protection, IReadOnlyList<Field> Fields) Bind(MappingReader frame, string frameName, int length, IReadOnlyList<Field> fields, Bound bound)
    {
        if (frame.Optional("protect") is not { } node)
            return (null, []);
        var reader = new MappingReader(node, bound.Diagnostics, "a protection");
        if (node is not MappingNode)
            return (null, []);
        var profileNode = reader.Required("profile", $"name it: {string.Join(", ", s_profiles.Keys)}");
        var profile = Scalars.Text(profileNode, bound.Diagnostics, "the profile") is { } name ? s_profiles.GetValueOrDefault(name) : null;
        if (profile is null)
        {
            if (profileNode is ScalarNode unknown)
                bound.Diagnostics.Add(Codes.UnknownWord, unknown.Span, $"'{Printable.Short(unknown.Value)}' is not a known profile", Nearest.Mend(unknown.Value, [.. s_profiles.Keys], "profile"));
            return (null, []);
        }
        var offset = (int)(Scalars.Integer(reader.Optional("offset"), bound.Diagnostics, "the offset", 0, FdLengths.Most) ?? 0);
        var start = (uint)(Scalars.Integer(reader.Optional("start"), bound.Diagnostics, "the first counter value", 0, profile.LastCounter) ?? profile.FirstCounter);
        var ids = BindIds(reader, profile, bound.Diagnostics);
        reader.Done();
        if (!Fits(profile, offset, length, profileNode!.Span, bound.Diagnostics) || ids is null)
            return (null, []);
        bound.Counters.Add(new Counter
        {
            Name = $"{frameName} protect counter",
            From = 0,
            To = profile.LastCounter,
            Step = 1,
            Start = start,
            PerSlot = false,
            RestartOnEntry = false,
            Span = node.Span,
        });
        var added = new ProtectLayout(profile, ids, offset, length, bound.Counters.Count - 1, node.Span).Fields();
        var names = added.Select(f => Names.ToC(f.Name)).ToHashSet(StringComparer.Ordinal);
        bound.CheckClashes(fields.Where(f => names.Contains(Names.ToC(f.Name))).Concat(added).Select(f => (f.Name, f.Span)), "fields");
        return (new FrameProtection(profile.Name, ids, offset, node.Span), added);
    }

    private static IReadOnlyList<uint>? BindIds(MappingReader reader, E2EProfile profile, DiagnosticBag diagnostics)
    {
        if (profile.IdBits > 0)
        {
            var most = (1L << profile.IdBits) - 1;
            return Scalars.Integer(reader.Required("data id", $"give the data ID, 0 to 0x{most:X}"), diagnostics, "the data ID", 0, most) is { } id ? [(uint)id] : null;
        }
        var node = reader.Required("data ids", "list the 16 data IDs, one byte for each counter value");
        if (Scalars.Bytes(node, diagnostics, "the data IDs") is not { } list)
            return null;
        if (list.Length is E2EProfile.ListLength)
            return [.. list.Select(b => (uint)b)];
        diagnostics.Add(Codes.SecretLength, node!.Span, $"the list has {list.Length} data IDs, profile {profile.Name} uses {E2EProfile.ListLength}", $"give {E2EProfile.ListLength} bytes, one for each counter value");
        return null;
    }

    private static bool Fits(E2EProfile profile, int offset, int length, Span span, DiagnosticBag diagnostics)
    {
        var needed = offset + profile.Header;
        if (length > profile.Most)
            diagnostics.Add(Codes.ProtectLength, span, $"profile {profile.Name} protects at most {profile.Most} bytes, the frame has {length}", "choose another profile, or shorten the frame");
        else if (length < needed)
            diagnostics.Add(Codes.ProtectLength, span, $"profile {profile.Name} takes {profile.Header} bytes from byte {offset} on, the frame has {length}", $"lengthen the frame to at least {needed} bytes, or lower the offset");
        return length >= needed && length <= profile.Most;
    }
}
