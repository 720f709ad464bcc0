namespace RigDaq.Publishing.Text;

/// <summary>What publishing says to people, so that it can be translated in one place. Keys of messages and the words that programs go by are no texts.</summary>
internal static class PublishingText
{
    public const string BrokerHere = "the broker in this process";
    public const string BrokerHereRemedy = "Check that nothing else ended the listener.";
    public const string BrokerElsewhereRemedy = "Check that the broker runs and mqtt.host, mqtt.port, mqtt.user, mqtt.password, mqtt.tls and mqtt.trustFile.";
    public const string BrokerDoesNotListen = "The broker does not listen yet.";
    public const string BrokerClosed = "The broker closed the connection.";
    public const string LinkOfResults = "results";
    public const string LinkOfLiveForce = "live force";

    public const string RetainedTopicsFull = "This broker keeps no more retained topics.";
    public const string TooMuchAtOnce = "This broker takes no more bytes from clients for the moment.";
    public const string OnlyOwnProgramPublishes = "Only the rig's own program publishes here.";

    public const string ReplayNotBegun = "Publishing ended before the replay began.";

    public const string PasswordWithoutUser = "mqtt.password is set but mqtt.user is empty.";
    public const string TrustFileWithoutTls = "mqtt.trustFile is set but mqtt.tls is false.";

    public static string BrokerRefusedLogin(string answer) => $"The broker refused the login: {answer}".TrimEnd();

    public static string BrokerNotReached(string fault) => $"The broker was not reached: {fault}";

    public static string BrokerDidNotAnswer(string fault) => $"The broker did not answer: {fault}";

    public static string ReplaysWait(int replaysMax) => $"{replaysMax} replays wait already or publishing has ended; ask again later.";

    public static string ReplayCutOff(int sent, int runs) => $"The broker went away after {sent} of {runs} runs. Ask for the replay again.";

    public static string GroupNotKnown(string specimen) => $"The group is not known: no study names the specimen \"{specimen}\".";

    public static string NameNotPossible(string name, int lengthMax) =>
        $"name is \"{name}\"; expected 1 to {lengthMax} letters, digits, dots, dashes or underscores, because it is a part of every topic.";

    public static string TopicRootNotPossible(string root, int levelsMax) =>
        $"mqtt.topicRoot is \"{root}\"; expected 1 to {levelsMax} levels of letters, digits, dots, dashes or underscores, with a slash between them.";

    public static string LiveBlockNotPossible(int milliseconds, int millisecondsMin, int millisecondsMax) =>
        $"mqtt.liveBlockMilliseconds is {milliseconds}; expected {millisecondsMin} to {millisecondsMax}.";

    public static string ConsumersTooMany(int consumers, int most) => $"mqtt.consumers names {consumers}; at most {most} are taken.";

    public static string ConsumerNotPossible(string name) =>
        $"mqtt.consumers has \"{name}\"; expected different names of letters, digits, dots, dashes or underscores, because each is a part of a topic.";

    public static string HostNotPossible(string host) => $"mqtt.host is \"{host}\"; expected the broker's host name or address.";

    public static string PortNotPossible(int? port) => $"mqtt.port is {port}; expected 1 to 65535.";

    public static string TrustFileMissing(string file) => $"mqtt.trustFile \"{file}\" does not exist; expected a PEM file with the authorities to trust.";

    public static string TrustFileIsFolder(string file) => $"mqtt.trustFile \"{file}\" is a folder; expected a PEM file with the authorities to trust.";

    public static string TrustFileNotReadable(string file) => $"mqtt.trustFile \"{file}\" may not be read by this user.";

    public static string NamesakeOnline(string rig) =>
        $"another rig is called \"{rig}\" at this broker and is online there: give each rig a name of its own (key name), because topics and client ids hang on it.";

    public static string NamesakeOrItself(string broker, string rig) =>
        $"{broker}: a rig called \"{rig}\" is online there already. If that is not this rig's own daemon, which runs now: give each rig a name of its own (key name).";

    public static string MayNotPublish(string topic, string answer) => $"the login is right, but it may not publish to {topic} ({answer}): let this user publish below it in the broker's access list.";

    public static string TrialFailed(string broker, string fault, string remedy) => $"{broker}: {fault} {remedy}";

    public const string RefusedUser = "the user or the password is wrong or missing, or this user may not connect (mqtt.user, mqtt.password).";
    public const string AnotherRigsBroker =
        "this is another rig's own broker, which takes its own rig's messages only: let both rigs use a broker of its own (mqtt.broker external).";

    public static string TrustFileNotPem(string file) => $"mqtt.trustFile \"{file}\" is not a PEM file with certificates.";

    public static string TrustFileEmpty(string file) => $"mqtt.trustFile \"{file}\" holds no certificate.";

    public static string AddressNotPossible(string address) => $"mqtt.address is \"{address}\"; expected an IP address such as 127.0.0.1.";

    public static string UsersNeeded(string address) =>
        $"mqtt.users is empty while mqtt.address is {address}; a broker that others can reach needs a user and a password.";

    public static string OwnPortNotPossible(int port) => $"mqtt.port is {port}; expected 0 (any free one) to 65535.";

    public static string FirstPacketNotPossible(int bytes) => $"mqtt.firstPacketBytesMax is {bytes}; expected 256 to 1048576.";

    public static string ClientsNotPossible(int clients) => $"mqtt.clientsMax is {clients}; expected 1 to 10000.";

    public static string AbsentSessionsNotPossible(int sessions) => $"mqtt.absentSessionsMax is {sessions}; expected 1 to 1000.";

    public static string RetainedTopicsNotPossible(int topics) => $"mqtt.retainedTopicsMax is {topics}; expected 0 to 100000.";

    public static string UsersTooMany(int users, int usersMax) => $"mqtt.users has {users} entries; at most {usersMax} are taken.";

    public static string UserEmpty(int index) => $"mqtt.users.{index}.user is empty; expected a name.";

    public static string UserTwice(int index, string user) => $"mqtt.users.{index}.user \"{user}\" stands there twice.";

    public static string UserWithoutPassword(int index) => $"mqtt.users.{index}.password is empty; expected a password.";
}
