using System.CommandLine.Help;
using System.CommandLine.Invocation;
using System.CommandLine.Parsing;
using FrontEndSim.Cli.Verbs;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.Language.Text;
using FrontEndSim.Reporting.Plots;

namespace FrontEndSim.Cli;

/// <summary>The program: command line in, exit code out. The one place where an exception becomes a line and a code.</summary>
internal static class Entry
{
    public static async Task<int> RunAsync(string[] args)
    {
        var root = Root();
        var line = root.Parse(args);
        if (args.Length == 0)
            return Refuse("no verb given", null, "frontendsim --help lists the verbs");
        if (line.Errors.Count > 0 && line.Action is not HelpWithExample)
            return Refuse(line, root);
        try
        {
            var said = new StringWriter(); // help and version: told as pages are, so that what cannot be written is said
            int code = await line.InvokeAsync(new InvocationConfiguration { EnableDefaultExceptionHandler = false, Output = said });
            Terminal.Write(said.ToString());
            return code;
        }
        catch (Exception e)
        {
            return Explain(e);
        }
    }

    private static RootCommand Root()
    {
        var root = new RootCommand("Designs, simulates and proves the analog front end between a sensor and a converter or logic pin.")
        {
            new CheckVerb(), new BiasVerb(), new SweepVerb(), new EventsVerb(), new FaultsVerb(), new ReportVerb(), new StartVerb(),
            new BudgetVerb(), new RespondVerb(), new ExplainVerb(), new DesignVerb(), new BuildVerb(), new CompareVerb(),
            new PartsVerb(), new BenchVerb(), new CompletionVerb(),
        };
        var help = root.Options.OfType<HelpOption>().Single();
        help.Action = new HelpWithExample((HelpAction)help.Action!);
        return root;
    }

    /// <summary>The usual help, and below it a line to paste.</summary>
    private sealed class HelpWithExample(HelpAction usual) : SynchronousCommandLineAction
    {
        public override bool ClearsParseErrors => true;

        public override int Invoke(ParseResult line)
        {
            int code = usual.Invoke(line);
            string example = (line.CommandResult.Command as IExample)?.Example ?? CheckVerb.Pasted;
            line.InvocationConfiguration.Output.Write($"Example:\n  frontendsim {example}\n\n");
            return code;
        }
    }

    /// <summary>Tells what went wrong; gives the exit code for it.</summary>
    internal static int Explain(Exception e)
    {
        var (code, lines) = Words(e);
        foreach (string line in lines)
        {
            if (e is DiagnosticsException)
                Terminal.Tell(line);
            else
                Terminal.Complain(line);
        }
        if (code == ExitCode.Internal)
        {
            Terminal.Tell(Environment.GetEnvironmentVariable("FRONTENDSIM_TRACE") == "1" ? e.ToString()
                : "This is a fault of the program, not of your file. FRONTENDSIM_TRACE=1 shows where it happened.");
        }
        return code;
    }

    /// <summary>What went wrong in lines, and the exit code for it.</summary>
    internal static (int Code, IEnumerable<string> Lines) Words(Exception e) => e switch
    {
        OperationCanceledException => (ExitCode.Stopped, ["stopped"]),
        DiagnosticsException wrong => (ExitCode.BadInput,
            [wrong.Diagnostics is [var only] ? DiagnosticPrinter.Print(only) : DiagnosticPrinter.Print(wrong.Diagnostics)]),
        InputException or NoFontException => (ExitCode.BadInput, [e.Message]),
        StudyProblemException impossible => (ExitCode.BadInput, [ProblemWords.Of(impossible.Problem)]),
        CircuitException unsolvable => (ExitCode.BadInput, unsolvable.Problems.Select(p => p.Message)),
        SolveException => (ExitCode.NoSolution, ["no solution: " + e.Message]),
        OutOfMemoryException => (ExitCode.NoSolution, ["no solution: the memory that the program may use is used up; a shorter time, fewer "
            + "events or less of the circuit at a time needs less"]),
        // A directory that may not be searched, or that is gone.
        IOException or UnauthorizedAccessException => (ExitCode.BadInput, [e.Message.ReplaceLineEndings(" ")]),
        AggregateException { InnerExceptions: [var inner] } => Words(inner),
        _ => (ExitCode.Internal, [$"internal error: {e.GetType().Name}: {e.Message.ReplaceLineEndings(" ")}"]),
    };

    /// <summary>One line for a wrong command line, with the nearest right word.</summary>
    private static int Refuse(ParseResult line, RootCommand root)
    {
        var verb = line.CommandResult.Command;
        string help = verb == root ? "frontendsim --help lists the verbs" : $"frontendsim {verb.Name} --help shows its options";
        string? unknown = line.UnmatchedTokens.FirstOrDefault();
        if (unknown is null)
            return Refuse(line.Errors[0].SymbolResult is ArgumentResult { Argument.Name: var missing } ? $"{verb.Name} needs {missing}"
                : line.Errors[0].Message.TrimEnd('.'), null, help);
        if (verb == root)
            return Refuse($"unknown verb '{unknown}'", Nearest.Of(unknown, root.Subcommands.Select(c => c.Name)), help);
        return unknown.StartsWith('-')
            ? Refuse($"{verb.Name} has no option '{unknown}'", Nearest.Of(unknown, verb.Options.Select(o => o.Name)), help)
            : Refuse($"'{unknown}' is one word too many for {verb.Name}", null, help + "; a quantity with a space needs quotes");
    }

    private static int Refuse(string what, string? near, string help)
    {
        Terminal.Complain(near is null ? $"{what}; {help}" : $"{what}; did you mean {near}?");
        return ExitCode.BadInput;
    }
}
