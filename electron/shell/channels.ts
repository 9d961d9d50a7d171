/** The two channels between the window and the shell. Only main and preload name them. */
export const CALL_CHANNEL = "legwright:call";
export const COMMAND_CHANNEL = "legwright:command";
/** From the preload alone: where a file lies that was dropped on the page. */
export const TAKE_CHANNEL = "legwright:take";
