using System.Collections;
using System.Reflection;
using Locum.Model;
using Locum.Reviewing;
using Locum.Tests.Unit.Schema;
using Locum.Text;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Reviewing;

/// <summary>Every property of every record of a model is compared: another value of it, set by reflection, is told.</summary>
/// <remarks>Some records belong to the program (named checksum rules) and are another while this runs, so no other test runs beside it.</remarks>
[Collection(Alone)]
public sealed class CompletenessTests
{
    private const string Alone = "alone";

    private static readonly NullabilityInfoContext s_nullability = new();

    /// <summary>What a review leaves out, and why.</summary>
    private static readonly Dictionary<string, string> s_ignored = new()
    {
        ["Module.Path"] = "where the file lies is not what it says",
        ["Module.Hash"] = "the hash is of the text",
        ["Frame.IsAnswer"] = "a channel says which frame is its answer",
        ["Frame.IsNode"] = "a node says which frame is its row",
        ["Frame.ProtectionFields"] = "counts fields that are compared themselves",
        ["Mode.Index"] = "the place in a list; names say which mode is meant",
        ["Project.Name"] = "a name for people",
        ["Project.Summary"] = "a sentence for people",
        ["Project.Path"] = "where the file lies is not what it says",
        ["BoardUse.StimulusPath"] = "the file's name and the stimulus in it are compared; a folder may move",
        ["ChecksumRule.Name"] = "the parameters are compared; the name goes with them",
        ["CrcParameters.Name"] = "the rule's name is compared",
        ["Formula.Root"] = "the meaning of the formula's text",
        ["SecretByte.Lowest"] = "the lowest value of the counter, which is compared itself",
    };

    [Fact]
    public void Another_value_of_any_property_is_told()
    {
        var untold = new SortedSet<string>(StringComparer.Ordinal);
        var told = new HashSet<string>();
        foreach (var file in Files())
        {
            var original = Reviews.Load(file);
            var changed = Reviews.Load(file);
            foreach (var (owner, property, name) in Properties(Parts(changed), []).ToList())
            {
                if (told.Contains(name) || s_ignored.ContainsKey(name))
                    continue;
                if (IsTold(original, changed, owner, property))
                    told.Add(name);
                else
                    untold.Add(name);
            }
        }
        untold.ExceptWith(told);
        Assert.True(untold.Count is 0, "these are compared nowhere: " + string.Join(", ", untold));
        Assert.True(told.Count > 60, $"only {told.Count} properties were seen");
    }

    [Fact]
    public void Every_kind_of_record_is_seen()
    {
        var references = new HashSet<Reference>();
        foreach (var file in Files())
            Assert.NotEmpty(Properties(Parts(Reviews.Load(file)), references).ToList());
        var seen = references.Select(r => r.Target.GetType()).ToHashSet();
        // Layouts of captures are no part of a firmware; a review leaves them out.
        Type[] layouts = [typeof(TableLayout), typeof(LayoutColumn)];
        var records = typeof(Project).Assembly.GetTypes().Where(t => t is { Namespace: "Locum.Model", IsAbstract: false, IsClass: true } && t.GetMethod("<Clone>$") is not null);
        Assert.All(records.Except(layouts), r => Assert.Contains(r, seen));
    }

    private static object?[] Parts(Subject subject) => [subject.Project, subject.Stimulus, subject.Stimuli.Values.ToList()];

    // The corpus, and a description in which every index can point to something else.
    private static IEnumerable<string> Files()
    {
        foreach (var file in SchemaCorpusTests.Files("projects").Concat(SchemaCorpusTests.Files("tests/Golden/valid")).Select(f => RepoRoot.Path(f.Split('/'))).Where(Reviews.Reviewed))
            yield return file;
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("seat.yaml"), Reviews.Valid);
        yield return folder.Path("seat.yaml");
    }

    private static bool IsTold(Subject original, Subject changed, object owner, PropertyInfo property)
    {
        var before = property.GetValue(owner);
        try
        {
            foreach (var other in Others(before, property.PropertyType))
            {
                property.SetValue(owner, other);
                try
                {
                    if (Review.Of(original, changed).Changes.Count > 0)
                        return true;
                }
                catch (ArgumentOutOfRangeException)
                {
                    // An index to nowhere; another one is tried.
                }
            }
            return false;
        }
        finally
        {
            property.SetValue(owner, before);
        }
    }

    private static IEnumerable<object?> Others(object? value, Type type)
    {
        var inner = Nullable.GetUnderlyingType(type) ?? type;
        if (Nullable.GetUnderlyingType(type) is not null && value is not null)
            yield return null;
        switch (value)
        {
            case bool flag:
                yield return !flag;
                break;
            case string text:
                yield return text + "x";
                break;
            case decimal number:
                yield return number + 1;
                break;
            case CanId id:
                yield return id with { Value = id.Value ^ 1 };
                break;
            case Enum:
                foreach (var other in Enum.GetValues(inner).Cast<object>().Where(o => !o.Equals(value)))
                    yield return other;
                break;
            case byte[] bytes:
                yield return bytes.Select(b => (byte)(b ^ 1)).ToArray();
                break;
            case IConvertible number:
                foreach (var step in new[] { 1, -1 }.Where(s => s > 0 || Convert.ToDecimal(number) > 0))
                    yield return Convert.ChangeType(Convert.ToDecimal(number) + step, inner);
                break;
            case null when inner == typeof(string):
                yield return "x";
                break;
            case null when inner.IsPrimitive:
                yield return Convert.ChangeType(1, inner);
                break;
            case IList { Count: > 0 } list:
                yield return Resized(type, list, null);
                if (list[list.Count - 1]!.GetType().GetMethod("<Clone>$")?.Invoke(list[list.Count - 1], null) is { } more)
                {
                    more.GetType().GetProperty("Name")?.SetValue(more, "another");
                    yield return Resized(type, list, more);
                }
                break;
            case IDictionary { Count: > 0 } map:
                yield return Activator.CreateInstance(map.GetType());
                break;
            default:
                if (value is not null && !type.IsValueType && value is not IEnumerable)
                    yield return null;
                break;
        }
    }

    // The list with one thing more, or without its last one.
    private static Array Resized(Type type, IList list, object? more)
    {
        object?[] items = [.. list.Cast<object>().Take(more is null ? list.Count - 1 : list.Count), .. more is null ? Array.Empty<object>() : [more]];
        var other = Array.CreateInstance(type.GetGenericArguments()[0], items.Length);
        items.CopyTo(other, 0);
        return other;
    }

    private static IEnumerable<(object Owner, PropertyInfo Property, string Name)> Properties(object? node, HashSet<Reference> seen)
    {
        switch (node)
        {
            case null or string or Span or CanId:
                break;
            case IDictionary map:
                foreach (var found in map.Values.Cast<object>().SelectMany(v => Properties(v, seen)))
                    yield return found;
                break;
            case IEnumerable list:
                foreach (var found in list.Cast<object>().SelectMany(v => Properties(v, seen)))
                    yield return found;
                break;
            case var one when one.GetType().IsClass && one.GetType().Namespace is "Locum.Model" or "Locum.Wire" or "Locum.Formulas" && seen.Add(new Reference(one)):
                foreach (var property in one.GetType().GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(p => p.CanWrite && p.PropertyType != typeof(Span)))
                {
                    var name = $"{(property.DeclaringType == typeof(ChecksumRule) || property.Name is "Name" && one is ChecksumRule ? "ChecksumRule" : one.GetType().Name)}.{property.Name}";
                    // What is a record itself is compared by its own properties; only its absence is another value.
                    if (!IsRecord(property) || s_nullability.Create(property).WriteState is NullabilityState.Nullable)
                        yield return (one, property, name);
                    if (!s_ignored.ContainsKey(name))
                        foreach (var found in Properties(property.GetValue(one), seen))
                            yield return found;
                }
                break;
            default:
                break;
        }
    }

    private static bool IsRecord(PropertyInfo property) => property.PropertyType.GetMethod("<Clone>$") is not null;

    private sealed class Reference(object target)
    {
        public object Target { get; } = target;

        public override bool Equals(object? other) => other is Reference r && ReferenceEquals(r.Target, Target);

        public override int GetHashCode() => System.Runtime.CompilerServices.RuntimeHelpers.GetHashCode(Target);
    }

    /// <summary>Tests that run beside no other.</summary>
    [CollectionDefinition(Alone, DisableParallelization = true)]
    public sealed class AloneDefinition;
}
