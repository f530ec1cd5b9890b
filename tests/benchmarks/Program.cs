using BenchmarkDotNet.Running;
using Locum.Benchmarks;

// "rates": simulator and C core side by side; "captures": reading beside a bare scan and tshark; "memory": reading 10 GiB;
// "draft": a long capture; "budget": response times and offsets; "report": size and load time of pages. Anything else goes to BenchmarkDotNet.
if (args is ["rates"])
    return Rates.Print();
if (args is ["captures"])
    return CaptureRates.Print();
if (args is ["memory"])
    return CaptureMemory.Print();
if (args is ["draft"])
    return DraftRun.Print();
if (args is ["budget"])
    return BudgetRun.Print();
if (args is ["report"])
    return ReportRun.Print();
BenchmarkSwitcher.FromAssembly(typeof(StageBenchmarks).Assembly).Run(args);
return 0;
