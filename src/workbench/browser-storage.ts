/** What this browser keeps for the workbench; null where it forbids that. */
export function browserStorage(): Storage | null {
	return allowed(() => localStorage);
}

/** What a reload keeps and another tab does not see; null where the browser forbids it. */
export function tabStorage(): Storage | null {
	return allowed(() => sessionStorage);
}

/** Where it is forbidden, naming it throws; some browsers have null in its place. */
function allowed(storage: () => Storage | null): Storage | null {
	try {
		return storage();
	} catch {
		return null;
	}
}
