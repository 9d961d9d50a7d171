/** The two channels between the window and the shell. Only main and preload name them. */
export const CALL_CHANNEL = "legwright:call";
export const COMMAND_CHANNEL = "legwright:command";
