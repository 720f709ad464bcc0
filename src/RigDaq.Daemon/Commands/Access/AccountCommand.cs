using System.CommandLine;
using RigDaq.Web.Access;
using RigDaq.App.Callers;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq account</c>: who may log in from elsewhere. It works on the accounts' file, whether a daemon runs or not: a running
/// one sees the change at its next look.</summary>
internal static class AccountCommand
{
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new("account", TerminalText.AccountCommand) { List(), Add(), Change(), Remove() };

    private static Command List() => new Command("list", TerminalText.AccountListCommand) { Data, Config }.WithBody(parsed =>
    {
        IReadOnlyList<Account> accounts = Book(parsed).All();
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new
        { accounts = accounts.Select(account => new { account.Name, role = account.Role.Word(), account.MadeAt }) });
        else if (accounts.Count == 0) CommandRunner.Say(TerminalText.AccountNoneYet);
        else foreach (Account account in accounts) CommandPlace.Output.WriteLine($"{account.Name}  {account.Role.Word()}");
        return ExitStatus.Done;
    });

    private static Command Add()
    {
        Argument<string> name = Name();
        var role = new Option<string>("--role")
        { Description = TerminalText.AccountRoleOption, HelpName = "ROLE", Required = true };
        return new Command("add", TerminalText.AccountAddCommand) { name, role, Data, Config }.WithBody(parsed =>
            Do(() =>
            {
                string who = parsed.GetRequiredValue(name);
                CallerRole may = RoleOf(parsed.GetRequiredValue(role));
                Book(parsed).Make(who, may, Password(who));
                return Saved(parsed, who, may);
            }));
    }

    private static Command Change()
    {
        Argument<string> name = Name();
        var role = new Option<string?>("--role") { Description = TerminalText.AccountRoleOption, HelpName = "ROLE" };
        var password = new Option<bool>("--password") { Description = TerminalText.AccountPasswordOption };
        return new Command("change", TerminalText.AccountChangeCommand) { name, role, password, Data, Config }.WithBody(parsed => Do(() =>
        {
            string who = parsed.GetRequiredValue(name);
            CallerRole? may = parsed.GetValue(role) is { } word ? RoleOf(word) : null;
            if (may is null && !parsed.GetValue(password)) throw new InputException(TerminalText.AccountNothingToChange);
            AccountBook book = Book(parsed);
            if (book.Find(who) is null) throw new RefusalException(AppText.AccountNone(who));
            book.Revise(who, may, parsed.GetValue(password) ? Password(who) : null);
            return Saved(parsed, who, book.Find(who)!.Role);
        }));
    }

    private static Command Remove()
    {
        Argument<string> name = Name();
        return new Command("remove", TerminalText.AccountRemoveCommand) { name, Data, Config }.WithBody(parsed => Do(() =>
        {
            string who = parsed.GetRequiredValue(name);
            Book(parsed).Remove(who);
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { name = who, removed = true });
            else CommandPlace.Output.WriteLine(TerminalText.AccountRemoved(who));
            return ExitStatus.Done;
        }));
    }

    private static int Saved(ParseResult parsed, string name, CallerRole role)
    {
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { name, role = role.Word() });
        else CommandPlace.Output.WriteLine(TerminalText.AccountSaved(name, role.Word()));
        return ExitStatus.Done;
    }

    private static int Do(Func<int> work)
    {
        try
        {
            return work();
        }
        catch (RefusalException refusal)
        {
            throw new InputException(refusal.Sentence);
        }
    }

    private static Argument<string> Name() => new("NAME") { Description = TerminalText.AccountNameArgument };

    private static CallerRole RoleOf(string word) =>
        CallerRoles.Find(word) ?? throw new InputException(AppText.AccountRole(CallerRoles.Words));

    private static string Password(string name) =>
        TypedSecret.Ask(TerminalText.AccountAskPassword(name)) ?? throw new InputException(TerminalText.AccountNoPassword);

    private static AccountBook Book(ParseResult parsed) =>
        new(DataOption.Folder(parsed.GetValue(Data), parsed.GetValue(Config)), TimeProvider.System);
}
