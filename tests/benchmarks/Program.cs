using BenchmarkDotNet.Running;
using Locum.Benchmarks;

// "rates": simulator and C core side by side, in seconds. Anything else goes to BenchmarkDotNet.
if (args is ["rates"])
    return Rates.Print();
BenchmarkSwitcher.FromAssembly(typeof(StageBenchmarks).Assembly).Run(args);
return 0;
