import { type Context, Hono, type MiddlewareHandler } from "hono";
import { bodyLimit } from "hono/body-limit";
import { routes, views } from "../api/routes.ts";
import type { BookListed, BookOpened, ProcedureOpened, ProcedureSaved } from "../api/types.ts";
import { type BookFile, readShop } from "../book/book.ts";
import { mostBytes, textOf } from "../book/files.ts";
import { listBooks, procedureIds, readProcedure, saveProcedure } from "../book/procedures.ts";
import { type OpenFile, openFile } from "../model/document.ts";
import type { Limits, Procedure } from "../model/generated/types.ts";
import { type Loss, type Problem, problemOf, sayProblem, type SchemaProblem } from "../model/problem.ts";
import { procedureFile } from "../model/procedure-file.ts";
import { asset, paperPage, workbenchPage } from "./page.ts";
import { dataReply, problemReply } from "./reply.ts";
import { Summaries } from "./summaries.ts";

/** What a server serves. */
export interface Served {
	/** A folder of books, or one book. */
	books: string;
	/** Folder of the built workbench. */
	workbench: string;
	/** Today's date, year-month-day. */
	today(): string;
	/** Told of a fault of our own, which the asker only hears the name of. */
	onFault(failure: unknown): void;
}

/**
 * Every answer of the server to a request whose Host was checked. Writing is for its own pages alone, one procedure at
 * a time, and only over a state that the writer knows.
 */
export function appOf({ books, workbench, today, onFault }: Served): Hono {
	const app = new Hono({ strict: false });
	const summaries = new Summaries();

	app.use(ownOriginOnly);

	app.get(pathOf(routes.books), () => {
		const listed = listBooks(books);
		return "problem" in listed ? problemReply("not-readable", listed.problem) : dataReply(listed.books.map(bookListed));
	});

	app.get(pathOf(routes.book), (context) => {
		const folder = bookFolder(books, idIn(context, "book"));
		if (folder instanceof Response) return folder;
		const read = readShop(folder);
		return "problem" in read ? problemReply("not-readable", read.problem) : dataReply(bookOpened(read));
	});

	app.get(pathOf(routes.procedures), (context) => {
		const folder = bookFolder(books, idIn(context, "book"));
		if (folder instanceof Response) return folder;
		const listed = summaries.list(folder, today());
		return "problem" in listed ? problemReply("not-readable", listed.problem) : dataReply(listed);
	});

	app.get(pathOf(routes.procedure), (context) => {
		const folder = bookFolder(books, idIn(context, "book"));
		if (folder instanceof Response) return folder;
		const id = idIn(context, "id");
		if (!isListed(folder, id)) return problemReply("no-such-procedure");
		const read = readProcedure(folder, id);
		if ("problem" in read) return problemReply("not-readable", read.problem);
		const etag = etagOf(read.digest);
		if (tagsOf(context.req.header("if-none-match")).includes(etag))
			return new Response(null, { status: 304, headers: { etag } });
		const { value, readOnly } = read.file;
		const opened: ProcedureOpened = { value: value as unknown as Procedure, readOnly };
		return dataReply(opened, 200, { etag });
	});

	app.put(
		pathOf(routes.procedure),
		jsonOnly,
		bodyLimit({
			maxSize: mostBytes,
			onError: () => problemReply("body-too-large", undefined, { connection: "close" }),
		}),
		async (context) => {
			const folder = bookFolder(books, idIn(context, "book"));
			if (folder instanceof Response) return folder;
			const basis = basisOf(context);
			if (basis === null) return problemReply("no-precondition");
			const id = idIn(context, "id");
			const sent = sentProcedure(new Uint8Array(await context.req.arrayBuffer()), id, basis === "new");
			if ("problem" in sent) return problemReply("not-valid", sent.problem);
			// Only a new one may have a name that the book does not list.
			if (basis !== "new" && !isListed(folder, id)) return problemReply("changed-meanwhile");
			const saved = await saveProcedure(folder, id, sent.value, basis);
			if ("refused" in saved) return problemReply(saved.refused, saved.problem);
			const answer: ProcedureSaved = { id };
			return dataReply(answer, basis === "new" ? 201 : 200, { etag: etagOf(saved.digest) });
		},
	);

	app.get(routes.paper(), () => paperPage());
	app.get("/assets/:name", (context) =>
		asset(workbench, idIn(context, "name"), /\bgzip\b/.test(context.req.header("accept-encoding") ?? "")),
	);
	for (const path of ["/", ...Object.values(views).map(pathOf)]) app.get(path, () => workbenchPage(workbench));

	app.all(pathOf(routes.procedure), () => problemReply("not-allowed", undefined, { allow: "GET, HEAD, PUT" }));
	for (const path of [...Object.values(routes), ...Object.values(views)].map(pathOf))
		app.all(path, () => problemReply("not-allowed", undefined, { allow: "GET, HEAD" }));
	app.notFound(() => problemReply("no-such-page"));
	app.onError((failure, context) => {
		// One who hung up hears no answer.
		if (!context.req.raw.signal.aborted) onFault(failure);
		return problemReply("fault");
	});
	return app;
}

/** The pattern of an address: `/api/books/:book/procedures/:id` from the function that makes such addresses. */
function pathOf(address: (...ids: never[]) => string): string {
	const makes = address as (...ids: string[]) => string;
	return decodeURIComponent(makes(":book", ":id"));
}

/** A part of the address, its escapes read once; it names something only where that is listed. */
function idIn({ req }: Context, name: "book" | "id" | "name"): string {
	return req.param(name) ?? "";
}

/** A browser sends the origin of the page with everything that may write; a page of this server has its address. */
const ownOriginOnly: MiddlewareHandler = async ({ req }, next) => {
	if (["GET", "HEAD", "OPTIONS"].includes(req.method)) return next();
	return req.header("origin") === `http://${req.header("host")}` ? next() : problemReply("foreign-origin");
};

/** Forms of other sites can send no JSON, and a charset other than UTF-8 would be read wrongly. */
const jsonOnly: MiddlewareHandler = async ({ req }, next) =>
	/^application\/json(\s*;\s*charset="?utf-8"?)?\s*$/i.test(req.header("content-type") ?? "") &&
	["identity", undefined].includes(req.header("content-encoding"))
		? next()
		: problemReply("not-json");

function bookListed({ id, folder }: { id: string; folder: string }): BookListed {
	const read = readShop(folder);
	const listed = procedureIds(folder);
	return {
		id,
		// One that does not open is listed all the same; opening it says why.
		name: "problem" in read ? id : read.shop.book.name,
		procedures: "problem" in listed ? 0 : listed.ids.length,
	};
}

function bookOpened({
	shop,
	parts,
	problems,
}: {
	shop: { book: BookOpened["book"]; stock: BookOpened["stock"] };
	parts: BookFile[];
	problems: { name: string; problem: Problem }[];
}): BookOpened {
	const limits = parts.find(({ file }) => file.kind === "limits")?.file as OpenFile<"limits"> | undefined;
	const none: Limits = { format: 1 };
	return {
		book: shop.book,
		stock: shop.stock,
		limits: limits?.readable ?? none,
		problems: [
			...problems,
			...parts.flatMap(({ name, file }) => file.problems.map((one) => ({ name, problem: partProblem(one) }))),
		],
	};
}

/** What the schema says of a part of a book, with the place already in words. */
function partProblem(problem: SchemaProblem): Problem {
	const { code, pointer, data } = problem;
	return { code, message: sayProblem(problem, "en"), place: { pointer }, data };
}

/** The folder of a book that is listed under an id, else the answer that there is none. */
function bookFolder(books: string, id: string): string | Response {
	const listed = listBooks(books);
	if ("problem" in listed) return problemReply("not-readable", listed.problem);
	return listed.books.find((book) => book.id === id)?.folder ?? problemReply("no-such-book");
}

function isListed(folder: string, id: string): boolean {
	const listed = procedureIds(folder);
	return "ids" in listed && listed.ids.includes(id);
}

/**
 * What a save builds on: digests, one of which the file must have, or that there is none yet. Null where neither is
 * said, or both; `If-Match: *` names no state.
 */
function basisOf({ req }: Context): string[] | "new" | null {
	const match = req.header("if-match");
	const noneMatch = req.header("if-none-match");
	if (match === undefined) return noneMatch?.trim() === "*" ? "new" : null;
	if (noneMatch !== undefined || match.trim() === "*") return null;
	// A weak one never matches here (RFC 9110, 13.1.1).
	return tagsOf(match).flatMap((tag) => /^"([0-9a-f]{64})"$/.exec(tag)?.[1] ?? []);
}

function tagsOf(header: string | undefined): string[] {
	return header === undefined ? [] : header.split(",").map((tag) => tag.trim());
}

function etagOf(digest: string): string {
	return `"${digest}"`;
}

/**
 * The procedure in a body: one record with the id of the address that reading and writing keeps whole. Half-typed rows
 * are welcome; a new id must be one that the schema allows, since it becomes the name of a file.
 */
function sentProcedure(bytes: Uint8Array, id: string, isNew: boolean): { value: unknown } | { problem: Problem } {
	const decoded = textOf(bytes);
	if ("problem" in decoded) return decoded;
	const file = openFile("procedure", decoded.text);
	if ("problem" in file) return file;
	const [loss] = file.readOnly;
	if (loss !== undefined) return { problem: lossProblem(loss) };
	const found = (file.value as { id: string }).id;
	if (found !== id) return { problem: problemOf("other-id", null, { name: procedureFile(id), found }) };
	const bad = isNew ? file.problems.find(({ pointer }) => pointer === "/id") : undefined;
	if (bad !== undefined) return { problem: partProblem(bad) };
	return { value: file.value };
}

function lossProblem({ code, line, column, pointer, data }: Loss): Problem {
	return problemOf(code, { line, column, pointer }, data);
}
