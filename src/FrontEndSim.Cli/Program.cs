using System.Text;
using FrontEndSim.Cli;

Console.OutputEncoding = new UTF8Encoding(false);
return await Entry.RunAsync(args);
