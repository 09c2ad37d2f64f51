const ending = ".procedure.json";

/** The name of a procedure's file in the folder of its book. */
export function procedureFile(id: string): string {
	return `${id}${ending}`;
}

/** The id that a file of a book is called by; null where it is no procedure's by its name. */
export function idOfFile(name: string): string | null {
	return name.endsWith(ending) ? name.slice(0, -ending.length) : null;
}
