// Starts the language server; everything shown comes from it.
const { workspace } = require("vscode");
const { LanguageClient } = require("vscode-languageclient/node");

let client;

function activate() {
  const command = workspace.getConfiguration("haunch").get("command");
  client = new LanguageClient(
    "haunch",
    "Haunch",
    { command, args: ["lsp"] },
    { documentSelector: [{ language: "haunch" }] },
  );
  return client.start();
}

function deactivate() {
  return client?.stop();
}

module.exports = { activate, deactivate };
