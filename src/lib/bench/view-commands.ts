/** Commands that change what is seen, not the bench: never undone, never in the history. */
export const viewCommands: readonly string[] = ['reveal truth', 'hide truth'];
