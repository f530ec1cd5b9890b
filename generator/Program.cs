using Locum.Cli;

return Application.Run(args, Terminal.OfProcess());
