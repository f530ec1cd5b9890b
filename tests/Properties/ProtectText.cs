using Locum.Protection;

namespace Locum.Tests.Properties;

/// <summary>Random end-to-end protection.</summary>
internal static class ProtectText
{
    /// <summary>The line of the frame, whose bits are taken from its fields; often nothing.</summary>
    public static string Draw(Dice dice, int length, FieldText fields)
    {
        var fitting = E2EProfile.All.Where(p => length >= p.Header && length <= p.Most).ToList();
        if (fitting.Count is 0 || !dice.Chance(12))
            return "";
        var profile = dice.Pick(fitting);
        var offset = dice.Chance(50) ? 0 : dice.Between(0, length - profile.Header);
        fields.Reserve(offset, profile.Header);
        var ids = profile.IdBits > 0 ? $"data id: 0x{dice.Bits(profile.IdBits):X}" : $"data ids: {dice.Row(E2EProfile.ListLength)}";
        var start = dice.Chance(50) ? "" : $", start: {dice.Pick(dice.Between(0, profile.LastCounter), profile.LastCounter)}";
        return $"    protect: {{profile: {profile.Name}, {ids}{(offset is 0 ? "" : $", offset: {offset}")}{start}}}\n";
    }
}
