using System.Text;
using FrontEndSim.Cli;

StandardStreams.HoldClosed();
Console.OutputEncoding = new UTF8Encoding(false);
return await Entry.RunAsync(args);
