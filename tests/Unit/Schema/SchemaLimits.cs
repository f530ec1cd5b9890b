using System.Text.RegularExpressions;
using Locum.Diagnostics;

namespace Locum.Tests.Unit.Schema;

/// <summary>Findings of shape that a JSON Schema cannot make, and why.</summary>
internal static class SchemaLimits
{
    public static readonly IReadOnlyList<(string Code, string Message, string Reason)> All =
    [
        ("LC0202", "^a change is sent at once", "which keys go together depends on the kind of event"),
        ("LC0202", "^a protection has no key 'data ids?'$", "which of the two is meant depends on the profile"),
        ("LC0202", "^another node's frame has no key 'every'$", "the schema sees 'every' beside 'at' as a fault of the whole frame"),
        ("LC0203", "^a protection needs 'data ids?'$", "which of the two is needed depends on the profile"),
        ("LC0203", "^a frame needs 'bus'$", "whether 'bus' is needed depends on the number of buses"),
        ("LC0203", "so the secret needs 'by'$", "whether 'by' is needed depends on the number of counters"),
        ("LC0203", "^'lost' needs 'follow' or a formula$|^'then' needs pages or payloads$", "one of two keys is enough"),
        ("LC0203", "needs a value for when that frame is lost$", "what a formula reads is not known to a schema"),
        ("LC0203", "^repeated frames need a distance$", "one frame needs none"),
        ("LC0204", "^a key must be a single word", "a key of JSON is always a text"),
        ("LC0205", "^the value is a number", "a text can be the name of a value"),
        ("LC0208", "is not a known state of (an input|a received frame)$", "what a condition compares with depends on the name before it"),
        ("LC0209", " of -?[0-9.]+ (µs|%|ohm|A|V|W|F|m|mm2|degC|times) lies outside", "a pattern does not compare quantities"),
        ("LC0209", " periods of the frame, outside | raw steps per frame, outside |^a ramp over .* frames, outside ", "period and scale decide together"),
        ("LC0209", "fields of more than 32 bits|have at most 31, or 32 with a sign$|have too many digits to be computed exactly$", "widths, signs and scales decide together"),
        ("LC0209", "^the counter never has the value", "three numbers decide together"),
        ("LC0209", "^the (data ID|first counter value) of", "the range depends on the profile"),
        ("LC0209", "^the mask of ", "the range depends on the kind of identifier"),
        ("LC0209", "^the polynomial of ", "the range depends on the width"),
        ("LC0209", "^(a data identifier has 1 to 128|an answer has 1 to 1785) bytes", "a pattern does not count bytes"),
        ("LC0211", "have the same name in C$", "names are compared with each other, in their form in C"),
        ("LC0212", "^the data identifiers of a channel have at most", "lengths of several texts are added up"),
        ("LC0212", "^the answers of a node have at most", "lengths of several answers are added up"),
    ];

    public static string? Reason(Diagnostic finding) =>
        All.FirstOrDefault(l => l.Code == finding.Code.Id && Regex.IsMatch(finding.Message, l.Message)).Reason;
}
