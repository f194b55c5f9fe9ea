//! The conversation with an editor: in order, one message after the other.
//!
//! Edits are taken in at once and cost nothing. Documents are checked when no
//! further message is waiting, so that a burst of edits is checked once; where
//! the last check took long, the server waits for more edits first, a tenth of
//! a second at most. A request is answered at once, on the text as it is.

use std::ops::ControlFlow;
use std::time::{Duration, Instant};

use lsp_server::{Connection, ErrorCode, Message, Notification, Request, Response};
use lsp_types::notification::{
    DidChangeTextDocument, DidChangeWatchedFiles, DidCloseTextDocument, DidOpenTextDocument, DidSaveTextDocument, Exit,
    Notification as _, PublishDiagnostics,
};
use lsp_types::request::{
    CodeActionRequest, Completion, DocumentHighlightRequest, DocumentSymbolRequest, Formatting, GotoDefinition,
    HoverRequest, InlayHintRequest, PrepareRenameRequest, References, RegisterCapability, Rename, Request as _,
    SemanticTokensFullRequest, Shutdown,
};
use lsp_types::{
    CodeAction, CodeActionKind, CodeActionOptions, CodeActionOrCommand, CodeActionParams, CodeActionProviderCapability,
    CompletionList, CompletionOptions, CompletionParams, DidChangeTextDocumentParams, DidCloseTextDocumentParams,
    DidOpenTextDocumentParams, DocumentFormattingParams, DocumentHighlightParams, DocumentSymbolParams,
    GotoDefinitionParams, HoverParams, HoverProviderCapability, InlayHintParams, Location, OneOf,
    OptionalVersionedTextDocumentIdentifier, PositionEncodingKind, PrepareRenameResponse, PublishDiagnosticsParams,
    Range, ReferenceParams, RenameOptions, RenameParams, SemanticTokens, SemanticTokensFullOptions,
    SemanticTokensLegend, SemanticTokensOptions, SemanticTokensParams, SemanticTokensServerCapabilities,
    ServerCapabilities, TextDocumentEdit, TextDocumentPositionParams, TextDocumentSyncCapability, TextDocumentSyncKind,
    TextDocumentSyncOptions, TextEdit, Uri, WorkDoneProgressOptions, WorkspaceEdit,
};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};

use crate::lsp::messages::{self, Pages, Shows};
use crate::lsp::names::Target;
use crate::lsp::position::{Encoding, byte, range, span};
use crate::lsp::reply::Frame;
use crate::lsp::state::{Open, State, Telling};
use crate::lsp::view::View;
use crate::lsp::{completion, form, hints, hover, names, outline, rename, tokens};
use crate::source::Span;

/// A check that takes longer than this is not made between two keystrokes.
const QUICK: Duration = Duration::from_millis(15);
/// The longest that messages wait for more edits.
const PATIENCE: Duration = Duration::from_millis(100);

/// Serves an editor until it says goodbye or goes away.
///
/// # Errors
/// A client that breaks the protocol's order, as a sentence for a person.
pub fn serve(connection: &Connection) -> Result<(), String> {
    let (id, asked) = connection.initialize_start().map_err(|error| error.to_string())?;
    let mut server = Server::new(&asked);
    let result = json!({
        "capabilities": server.capabilities(),
        "serverInfo": { "name": "porringer", "version": env!("CARGO_PKG_VERSION") },
    });
    server.send(connection, Response::new_ok(id, result));
    loop {
        let message = match server.patience() {
            None => connection.receiver.recv().ok(),
            Some(left) => match connection.receiver.recv_timeout(left) {
                Ok(message) => Some(message),
                Err(error) if error.is_timeout() => {
                    server.tell(connection);
                    continue;
                }
                Err(_) => None,
            },
        };
        // An editor that went away has no more wishes.
        let Some(message) = message else { return Ok(()) };
        match message {
            Message::Request(request) => {
                let reply = server.answer(request);
                server.send(connection, reply);
            }
            Message::Notification(notification) => {
                if server.take_in(connection, notification).is_break() {
                    return Ok(());
                }
            }
            Message::Response(_) => {}
        }
    }
}

/// What the editor can do, as far as it matters.
#[derive(Debug, Clone, Copy)]
struct Client {
    shows: Shows,
    markdown: bool,
    watches: bool,
    versioned_edits: bool,
}

struct Server {
    state: State,
    client: Client,
    pages: Pages,
    /// Since when something may have to be told.
    waiting: Option<Instant>,
    last_check: Duration,
    /// It was asked to shut down; what follows is `exit`.
    over: bool,
}

impl Server {
    /// Reads what the client offers leniently: what it does not say it does
    /// not have.
    fn new(asked: &Value) -> Self {
        let is = |path: &str| asked.pointer(path).and_then(Value::as_bool).unwrap_or(false);
        let has = |path: &str, word: &str| {
            let list = asked.pointer(path).and_then(Value::as_array);
            list.is_some_and(|list| list.iter().any(|entry| entry == word))
        };
        let utf8 = has("/capabilities/general/positionEncodings", Encoding::Utf8.word());
        Self {
            state: State::new(if utf8 { Encoding::Utf8 } else { Encoding::Utf16 }),
            client: Client {
                shows: Shows {
                    related: is("/capabilities/textDocument/publishDiagnostics/relatedInformation"),
                    links: is("/capabilities/textDocument/publishDiagnostics/codeDescriptionSupport"),
                    tags: asked.pointer("/capabilities/textDocument/publishDiagnostics/tagSupport").is_some(),
                },
                markdown: has("/capabilities/textDocument/hover/contentFormat", "markdown"),
                watches: is("/capabilities/workspace/didChangeWatchedFiles/dynamicRegistration"),
                versioned_edits: is("/capabilities/workspace/workspaceEdit/documentChanges"),
            },
            pages: Pages::default(),
            waiting: None,
            last_check: Duration::ZERO,
            over: false,
        }
    }

    fn capabilities(&self) -> ServerCapabilities {
        ServerCapabilities {
            position_encoding: Some(match self.state.encoding {
                Encoding::Utf8 => PositionEncodingKind::UTF8,
                Encoding::Utf16 => PositionEncodingKind::UTF16,
            }),
            text_document_sync: Some(TextDocumentSyncCapability::Options(TextDocumentSyncOptions {
                open_close: Some(true),
                change: Some(TextDocumentSyncKind::INCREMENTAL),
                save: Some(true.into()),
                ..TextDocumentSyncOptions::default()
            })),
            hover_provider: Some(HoverProviderCapability::Simple(true)),
            completion_provider: Some(CompletionOptions {
                trigger_characters: Some([" ", ",", ":", ";"].map(str::to_owned).to_vec()),
                ..CompletionOptions::default()
            }),
            definition_provider: Some(OneOf::Left(true)),
            references_provider: Some(OneOf::Left(true)),
            document_highlight_provider: Some(OneOf::Left(true)),
            document_symbol_provider: Some(OneOf::Left(true)),
            code_action_provider: Some(CodeActionProviderCapability::Options(CodeActionOptions {
                code_action_kinds: Some(vec![CodeActionKind::QUICKFIX]),
                ..CodeActionOptions::default()
            })),
            document_formatting_provider: Some(OneOf::Left(true)),
            rename_provider: Some(OneOf::Right(RenameOptions {
                prepare_provider: Some(true),
                work_done_progress_options: WorkDoneProgressOptions::default(),
            })),
            semantic_tokens_provider: Some(SemanticTokensServerCapabilities::SemanticTokensOptions(
                SemanticTokensOptions {
                    legend: SemanticTokensLegend {
                        token_types: tokens::TYPES.to_vec(),
                        token_modifiers: tokens::MODIFIERS.to_vec(),
                    },
                    full: Some(SemanticTokensFullOptions::Bool(true)),
                    ..SemanticTokensOptions::default()
                },
            )),
            inlay_hint_provider: Some(OneOf::Left(true)),
            ..ServerCapabilities::default()
        }
    }

    fn send(&self, connection: &Connection, message: impl Into<Message>) {
        // An editor that went away is noticed when nothing more comes from it.
        let _ = connection.sender.send(message.into());
    }

    /// How long to wait for another message before telling what has changed;
    /// for ever where nothing has.
    fn patience(&self) -> Option<Duration> {
        let since = self.waiting?;
        let asked = if self.last_check <= QUICK { Duration::ZERO } else { PATIENCE };
        // A stream of edits must not keep messages back for longer.
        let over = since.elapsed() >= PATIENCE;
        Some(if over { Duration::ZERO } else { asked.min(PATIENCE.saturating_sub(since.elapsed())) })
    }

    fn is_overdue(&self) -> bool {
        self.waiting.is_some_and(|since| since.elapsed() >= PATIENCE)
    }

    fn tell(&mut self, connection: &Connection) {
        let began = Instant::now();
        self.waiting = None;
        let Self { state, client, pages, .. } = self;
        let encoding = state.encoding;
        state.tell(|telling| publish(connection, telling, encoding, client.shows, pages));
        self.last_check = began.elapsed();
    }

    fn changed(&mut self) {
        self.waiting.get_or_insert_with(Instant::now);
    }

    fn take_in(&mut self, connection: &Connection, notification: Notification) -> ControlFlow<()> {
        let Notification { method, params } = notification;
        match method.as_str() {
            Exit::METHOD => return ControlFlow::Break(()),
            "initialized" => self.watch(connection),
            DidOpenTextDocument::METHOD => {
                if let Some(DidOpenTextDocumentParams { text_document: opened }) = read(params) {
                    self.state.open(&opened.uri, &opened.language_id, opened.version, &opened.text);
                    self.changed();
                }
            }
            DidChangeTextDocument::METHOD => {
                if let Some(DidChangeTextDocumentParams { text_document, content_changes }) = read(params) {
                    self.state.change(&text_document.uri, text_document.version, content_changes);
                    self.changed();
                }
            }
            DidCloseTextDocument::METHOD => {
                if let Some(DidCloseTextDocumentParams { text_document }) = read(params) {
                    self.state.close(&text_document.uri);
                    let params = PublishDiagnosticsParams::new(text_document.uri, Vec::new(), None);
                    self.send(connection, Notification::new(PublishDiagnostics::METHOD.to_owned(), params));
                    self.changed();
                }
            }
            // What has changed on the disk is found by its time and length.
            DidSaveTextDocument::METHOD | DidChangeWatchedFiles::METHOD => {
                self.state.refresh();
                self.changed();
            }
            _ => {}
        }
        if self.is_overdue() {
            self.tell(connection);
        }
        ControlFlow::Continue(())
    }

    /// Asks to be told when files change that nobody holds open.
    fn watch(&self, connection: &Connection) {
        if !self.client.watches {
            return;
        }
        let watchers = ["**/*.{dish,menu,booklet}", "**/*.toml", "**/*.csv"].map(|glob| json!({ "globPattern": glob }));
        let params = json!({ "registrations": [{
            "id": "porringer-files",
            "method": DidChangeWatchedFiles::METHOD,
            "registerOptions": { "watchers": watchers },
        }] });
        let id = "porringer-files".to_owned().into();
        self.send(connection, Request { id, method: RegisterCapability::METHOD.to_owned(), params });
    }

    fn answer(&mut self, request: Request) -> Response {
        let Request { id, method, params } = request;
        if self.over {
            return Response::new_err(id, ErrorCode::InvalidRequest as i32, "the server has shut down".to_owned());
        }
        let result = match method.as_str() {
            // What comes between this and `exit` is no fault of the editor.
            Shutdown::METHOD => {
                self.over = true;
                Ok(Value::Null)
            }
            HoverRequest::METHOD => self.hover(params),
            Completion::METHOD => self.completion(params),
            GotoDefinition::METHOD => self.definition(params),
            References::METHOD => self.references(params),
            DocumentHighlightRequest::METHOD => self.highlights(params),
            DocumentSymbolRequest::METHOD => self.symbols(params),
            CodeActionRequest::METHOD => self.actions(params),
            Formatting::METHOD => self.formatting(params),
            PrepareRenameRequest::METHOD => self.prepare_rename(params),
            Rename::METHOD => self.rename(params),
            SemanticTokensFullRequest::METHOD => self.tokens(params),
            InlayHintRequest::METHOD => self.hints(params),
            _ => Err((ErrorCode::MethodNotFound, format!("no request `{method}` is known here"))),
        };
        match result {
            Ok(value) => Response { id, result: Some(value), error: None },
            Err((code, message)) => Response::new_err(id, code as i32, message),
        }
    }

    /// Calls a feature at a place of a document; nothing where it is not open.
    fn at<T>(
        &mut self,
        place: &TextDocumentPositionParams,
        feature: impl FnOnce(&View<'_>, usize, Frame<'_>) -> Option<T>,
    ) -> Option<T> {
        let encoding = self.state.encoding;
        let found = self.state.view(&place.text_document.uri, |view, open| {
            let frame = Frame { source: &open.source, encoding };
            feature(view, byte(&open.source, place.position, encoding), frame)
        });
        found.flatten()
    }

    /// Calls a feature on a whole document.
    fn on<T>(&mut self, uri: &Uri, feature: impl FnOnce(&View<'_>, &Open, Frame<'_>) -> T) -> Option<T> {
        let encoding = self.state.encoding;
        self.state.view(uri, |view, open| feature(view, open, Frame { source: &open.source, encoding }))
    }

    fn hover(&mut self, params: Value) -> Answer {
        let HoverParams { text_document_position_params: place, .. } = asked(params)?;
        let markdown = self.client.markdown;
        told(self.at(&place, |view, at, frame| hover::hover(view, at).map(|told| frame.hover(told, markdown))))
    }

    fn completion(&mut self, params: Value) -> Answer {
        let CompletionParams { text_document_position: place, .. } = asked(params)?;
        let found = self.at(&place, |view, at, frame| {
            // What fits depends on every letter.
            Some(CompletionList { is_incomplete: true, items: frame.items(completion::complete(view, at)) })
        });
        told(found)
    }

    fn definition(&mut self, params: Value) -> Answer {
        let GotoDefinitionParams { text_document_position_params: place, .. } = asked(params)?;
        let here = place.text_document.uri.clone();
        let found = self.at(&place, |view, at, frame| {
            let target = names::definition(view, at)?;
            let range = match &target {
                Target::Here(span) => range(frame.source, *span, frame.encoding),
                Target::There(_) => Range::default(),
            };
            Some((target, range))
        });
        told(found.and_then(|(target, range)| {
            let uri = match target {
                Target::Here(_) => here,
                Target::There(path) => self.state.uri_of(&path)?,
            };
            Some(Location { uri, range })
        }))
    }

    fn references(&mut self, params: Value) -> Answer {
        let ReferenceParams { text_document_position: place, context, .. } = asked(params)?;
        let uri = place.text_document.uri.clone();
        told(self.at(&place, |view, at, frame| {
            let found = names::references(view, at).into_iter();
            let wanted = found.filter(|one| context.include_declaration || !one.definition);
            let place = |span| Location { uri: uri.clone(), range: range(frame.source, span, frame.encoding) };
            Some(wanted.map(|one| place(one.span)).collect::<Vec<_>>())
        }))
    }

    fn highlights(&mut self, params: Value) -> Answer {
        let DocumentHighlightParams { text_document_position_params: place, .. } = asked(params)?;
        told(self.at(&place, |view, at, frame| Some(frame.highlights(&names::references(view, at)))))
    }

    fn symbols(&mut self, params: Value) -> Answer {
        let DocumentSymbolParams { text_document, .. } = asked(params)?;
        told(self.on(&text_document.uri, |view, _, frame| frame.symbols(outline::outline(view))))
    }

    fn actions(&mut self, params: Value) -> Answer {
        let CodeActionParams { text_document, range: wanted, context, .. } = asked(params)?;
        // Only quick fixes are offered here.
        let kinds = context.only.unwrap_or_default();
        let fits = |kind: &CodeActionKind| {
            let asked = kind.as_str();
            asked.is_empty() || CodeActionKind::QUICKFIX.as_str() == asked
        };
        if !kinds.is_empty() && !kinds.iter().any(fits) {
            return told(Some(Vec::<CodeActionOrCommand>::new()));
        }
        let uri = text_document.uri.clone();
        let Client { shows, versioned_edits, .. } = self.client;
        let mut pages = std::mem::take(&mut self.pages);
        let found = self.on(&text_document.uri, |view, open, frame| {
            let wanted = span(frame.source, wanted, frame.encoding);
            let offers = messages::offers(view, wanted);
            let lone = |message| offers.iter().filter(|offer| std::ptr::eq(offer.message, message)).count() == 1;
            let action = |offer: &messages::Offer<'_>| CodeAction {
                title: offer.title.clone(),
                kind: Some(CodeActionKind::QUICKFIX),
                diagnostics: Some(vec![messages::message(
                    offer.message,
                    frame.source,
                    &uri,
                    frame.encoding,
                    shows,
                    &mut pages,
                )]),
                edit: Some(edit(
                    open,
                    frame.edits(&[(offer.fix.span, offer.fix.replacement.clone())]),
                    versioned_edits,
                )),
                is_preferred: Some(offer.preferred && lone(offer.message)),
                ..CodeAction::default()
            };
            offers.iter().map(action).map(CodeActionOrCommand::CodeAction).collect::<Vec<_>>()
        });
        self.pages = pages;
        told(found)
    }

    fn formatting(&mut self, params: Value) -> Answer {
        let DocumentFormattingParams { text_document, .. } = asked(params)?;
        told(self.on(&text_document.uri, |view, _, frame| frame.edits(&form::form(view))))
    }

    fn prepare_rename(&mut self, params: Value) -> Answer {
        let place: TextDocumentPositionParams = asked(params)?;
        told(self.at(&place, |view, at, frame| {
            let (span, placeholder) = rename::prepare(view, at)?;
            let range = range(frame.source, span, frame.encoding);
            Some(PrepareRenameResponse::RangeWithPlaceholder { range, placeholder })
        }))
    }

    fn rename(&mut self, params: Value) -> Answer {
        let RenameParams { text_document_position: place, new_name, .. } = asked(params)?;
        let encoding = self.state.encoding;
        let versioned = self.client.versioned_edits;
        let found = self.state.view(&place.text_document.uri, |view, open| {
            let frame = Frame { source: &open.source, encoding };
            let at = byte(&open.source, place.position, encoding);
            let edits = rename::rename(view, at, &new_name)?;
            Ok(edit(open, frame.edits(&edits), versioned))
        });
        match found {
            Some(Ok(edit)) => told(Some(edit)),
            Some(Err(why)) => Err((ErrorCode::RequestFailed, why)),
            None => told::<WorkspaceEdit>(None),
        }
    }

    fn tokens(&mut self, params: Value) -> Answer {
        let SemanticTokensParams { text_document, .. } = asked(params)?;
        told(self.on(&text_document.uri, |view, _, frame| SemanticTokens {
            result_id: None,
            data: frame.tokens(&tokens::tokens(view)),
        }))
    }

    fn hints(&mut self, params: Value) -> Answer {
        let InlayHintParams { text_document, range: wanted, .. } = asked(params)?;
        told(self.on(&text_document.uri, |view, _, frame| {
            let Span { start, end } = span(frame.source, wanted, frame.encoding);
            let found = hints::hints(view).into_iter().filter(|hint| start <= hint.at && hint.at <= end);
            found.map(|hint| frame.hint(hint)).collect::<Vec<_>>()
        }))
    }
}

type Answer = Result<Value, (ErrorCode, String)>;

/// The parameters of a request.
fn asked<P: DeserializeOwned>(params: Value) -> Result<P, (ErrorCode, String)> {
    serde_json::from_value(params).map_err(|error| (ErrorCode::InvalidParams, error.to_string()))
}

/// The parameters of a notification; one that cannot be read is dropped, as
/// nobody waits for an answer.
fn read<P: DeserializeOwned>(params: Value) -> Option<P> {
    serde_json::from_value(params).ok()
}

/// A result; `null` where there is none.
fn told<T: Serialize>(found: Option<T>) -> Answer {
    serde_json::to_value(found).map_err(|error| (ErrorCode::InternalError, error.to_string()))
}

fn edit(open: &Open, edits: Vec<TextEdit>, versioned: bool) -> WorkspaceEdit {
    if versioned {
        let text_document =
            OptionalVersionedTextDocumentIdentifier { uri: open.uri.clone(), version: Some(open.version) };
        let edits = edits.into_iter().map(OneOf::Left).collect();
        let changes = lsp_types::DocumentChanges::Edits(vec![TextDocumentEdit { text_document, edits }]);
        return WorkspaceEdit { document_changes: Some(changes), ..WorkspaceEdit::default() };
    }
    // The type that the protocol's crate asks for.
    #[allow(clippy::mutable_key_type)]
    let changes = std::iter::once((open.uri.clone(), edits)).collect();
    WorkspaceEdit { changes: Some(changes), ..WorkspaceEdit::default() }
}

fn publish(connection: &Connection, telling: &Telling<'_>, encoding: Encoding, shows: Shows, pages: &mut Pages) {
    let one = |message| messages::message(message, telling.source, &telling.uri, encoding, shows, pages);
    let diagnostics = telling.messages.iter().map(one).collect();
    let params = PublishDiagnosticsParams::new(telling.uri.clone(), diagnostics, telling.version);
    let _ = connection.sender.send(Notification::new(PublishDiagnostics::METHOD.to_owned(), params).into());
}
