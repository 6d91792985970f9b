using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>Builds a stage of a kind. The forms of its settings come from the kind, so that a new kind needs no change here.</summary>
internal static class ShippedStage
{
    public static void Bind(StatementSyntax statement, StageKind kind, Scope scope)
    {
        bool mayStayOpen = scope.Builder.Unfinished is not null && scope.Prefix == ""
            && kind.Shifts && statement.Settings.Any(s => s.Name == StageKind.Maps.Name);
        var (settings, isComplete) = StageStatement.ReadSettings(statement, SettingForms.Of(kind),
            name => kind.Settings.First(s => s.Name == name).IsRequired && !(mayStayOpen && name == StageKind.OpAmp.Name),
            scope.Diagnostics);
        var values = new List<SettingValue>();
        foreach (var setting in kind.Settings.Where(s => settings.ContainsKey(s.Name)))
        {
            if (setting.Read(new SettingReader(settings[setting.Name], scope)) is { } value)
                values.Add(value);
            else
                isComplete = false;
        }
        var request = new StageRequest(kind, scope.FullName(statement.Token("name")), SettingValues.Empty.With(values),
            scope.Builder.Rails, scope.Builder.Sensors)
        {
            Catalogue = scope.Builder.Catalogue,
        };
        if (isComplete && !(mayStayOpen && IsLeftOpen(statement, request, scope)))
            Build(statement, request, settings, scope);
    }

    /// <summary>Notes a stage that waits for its op amp or its resistors; false if everything is given.</summary>
    private static bool IsLeftOpen(StatementSyntax statement, StageRequest request, Scope scope)
    {
        bool isOpen = request.Kind.Settings.Any(s => s.Name == StageKind.OpAmp.Name) && !request.Has(StageKind.OpAmp);
        try
        {
            isOpen = isOpen || !DesignStudy.OpenValues(request.Build(), request).IsEmpty;
        }
        catch (StageProblemException)
        {
            isOpen = true; // what is given does not suffice
        }
        if (isOpen)
            scope.Builder.Unfinished!.Add(new UnfinishedStage(request, statement));
        return isOpen;
    }

    private static void Build(StatementSyntax statement, StageRequest request, Dictionary<string, PhraseSyntax> settings, Scope scope)
    {
        try
        {
            var stage = request.Build();
            if (scope.Builder.Admit(stage.Parts.Length, statement.Span))
                scope.Add(stage, statement.Span);
            if (stage.Heats is var (sensor, wattsPerKelvin) && scope.Builder.Sensors.FindIndex(s => s.Name == sensor) is >= 0 and var at)
                scope.Builder.Sensors[at] = scope.Builder.Sensors[at] with { StageWattsPerKelvin = wattsPerKelvin };
        }
        catch (StageProblemException e)
        {
            var span = e.Problem.Setting is { } setting && settings.TryGetValue(setting, out var phrase) ? phrase.Span : statement.Span;
            var (what, suggestion) = ProblemWords.Split(e.Problem);
            scope.Diagnostics.Error(span, DiagnosticCode.ImpossibleStage, what, null, suggestion == "" ? null : suggestion);
        }
    }

    /// <summary>A stage as it is written, by the settings that it is read by.</summary>
    public static StatementText Write(StageRequest request) =>
        new($"stage {request.Name} is {request.Kind.Name}", [.. SettingLines(request).Select(s => s.Value)]);

    /// <summary>The settings of a stage, each a line by its name, in the order of the kind.</summary>
    public static ImmutableArray<KeyValuePair<string, string>> SettingLines(StageRequest request) =>
    [
        .. from setting in request.Kind.Settings
           join value in request.Values on setting.Name equals value.Setting.Name
           select KeyValuePair.Create(setting.Name, value.Line(SettingWriter.Instance)),
    ];
}
