using System.Reflection;
using Locum.Tests.Properties;
using Xunit.Sdk;

namespace Locum.Tests.Firmware;

/// <summary>
/// A case of a theory, such as a mistake in a port that must be caught. Each costs a build and runs on an emulated board:
/// a usual run has about a fifth of them, always the same, a long run all.
/// </summary>
[AttributeUsage(AttributeTargets.Method, AllowMultiple = true)]
public sealed class SampledAttribute(params object[] data) : DataAttribute
{
    private const uint Share = 5;

    public override IEnumerable<object[]> GetData(MethodInfo testMethod) => Cases.Long || Hash() % Share is 0 ? [data] : [];

    // FNV-1a, so that the choice does not depend on what else is tested.
    private uint Hash() => string.Join('\n', data).Aggregate(2166136261u, (h, c) => (h ^ c) * 16777619u);
}
