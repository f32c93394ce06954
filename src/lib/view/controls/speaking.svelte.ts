/** Which field's fault is in words just now: one at a time, for the words of two would lie over each other. */
export const speaking: { field: string | null } = $state({ field: null });
