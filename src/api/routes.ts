/** Addresses of the server, relative to its root; ids are escaped. */
export const routes = {
	/** GET: `BookListed[]`. */
	books: () => "/api/books",
	/** GET: `BookOpened`. */
	book: (book: string) => `/api/books/${encodeURIComponent(book)}`,
	/** GET: `ProceduresListed`. */
	procedures: (book: string) => `/api/books/${encodeURIComponent(book)}/procedures`,
	/**
	 * GET: `ProcedureOpened`, with an ETag. PUT: the procedure itself; `If-Match` with that ETag, or
	 * `If-None-Match: *` for a new one; answers `ProcedureSaved`, with the new ETag.
	 */
	procedure: (book: string, id: string) =>
		`/api/books/${encodeURIComponent(book)}/procedures/${encodeURIComponent(id)}`,
	/** An empty page of the same origin that allows inline styles and nothing else: paper is laid out in it. */
	paper: () => "/paper",
};

/** Addresses of the views. */
export const views = {
	/** The Shelf of a book. */
	shelf: (book: string) => `/books/${encodeURIComponent(book)}`,
	/** The Sheet of a procedure. */
	sheet: (book: string, id: string) => `/books/${encodeURIComponent(book)}/procedures/${encodeURIComponent(id)}`,
	/** The Sheet of a procedure that has no file yet; `draft` names its draft. */
	newSheet: (book: string, draft: string) => `/books/${encodeURIComponent(book)}/new/${encodeURIComponent(draft)}`,
};
