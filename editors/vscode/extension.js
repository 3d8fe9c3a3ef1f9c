// Starts the language server; everything shown comes from it.
const { workspace } = require("vscode");
const { LanguageClient } = require("vscode-languageclient/node");

let client;

// What this editor can show beyond the protocol: pictures in a hover, and the pages about findings.
const shows = {
  fillClientCapabilities(capabilities) {
    const haunch = { drawings: true, pages: true };
    capabilities.experimental = { ...capabilities.experimental, haunch };
  },
  initialize() {},
  getState() {
    return { kind: "static" };
  },
  clear() {},
};

// A page about a finding has an address of the server's own; the server gives its text.
const pages = {
  provideTextDocumentContent(address) {
    return client.sendRequest("workspace/executeCommand", {
      command: "haunch.page",
      arguments: [address.toString()],
    });
  },
};

function activate(context) {
  const command = workspace.getConfiguration("haunch").get("command");
  client = new LanguageClient(
    "haunch",
    "Haunch",
    { command, args: ["lsp"] },
    { documentSelector: [{ language: "haunch" }] },
  );
  client.registerFeature(shows);
  context.subscriptions.push(workspace.registerTextDocumentContentProvider("haunch-page", pages));
  return client.start();
}

function deactivate() {
  return client?.stop();
}

module.exports = { activate, deactivate };
