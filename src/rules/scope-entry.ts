import type { Procedure } from "../model/generated/types.ts";

/** Pointer to the entry of the scope that claims a defect or a clear coat; to the scope where none does. */
export function scopeEntry({ scope }: Procedure, part: "defects" | "clearCoats", value: string): string {
	const at =
		part === "defects"
			? scope?.defects?.findIndex(({ defect }) => defect === value)
			: scope?.clearCoats?.findIndex((one) => one === value);
	return at === undefined || at < 0 ? "/scope" : `/scope/${part}/${at}`;
}
