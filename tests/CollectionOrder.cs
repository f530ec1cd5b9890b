using Xunit;
using Xunit.Abstractions;

[assembly: TestCollectionOrderer("Locum.Tests.CollectionOrder", "Locum.Tests")]

namespace Locum.Tests;

/// <summary>Classes whose tests build firmware come first, so that none of them is left to run alone in the end.</summary>
public sealed class CollectionOrder : ITestCollectionOrderer
{
    public IEnumerable<ITestCollection> OrderTestCollections(IEnumerable<ITestCollection> testCollections) =>
        testCollections.OrderBy(c => c.DisplayName.Contains(".Firmware.", StringComparison.Ordinal) ? 0 : c.DisplayName.Contains(".Properties.", StringComparison.Ordinal) ? 1 : 2);
}
