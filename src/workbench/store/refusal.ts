import { sayProblemDetails } from "../../api/problems.ts";
import { sayProblem } from "../../model/problem.ts";
import type { Language } from "../../model/words.ts";
import type { Refusal } from "./state.ts";

/** Why nothing was saved, in the reader's language: the store's own reason, or that of the server. */
export function sayRefusal(refusal: Refusal, language: Language): string {
	return "status" in refusal ? sayProblemDetails(refusal, language) : sayProblem(refusal, language);
}
