//! The folders of the workspace.

use std::path::PathBuf;

use serde_json::Value;
use tower_lsp::lsp_types::{Url, WorkspaceFoldersChangeEvent};

use crate::address::{file_of, path_of};

/// The folders that the client works in, by path.
#[derive(Debug, Clone, Default)]
pub(crate) struct Folders {
    paths: Vec<String>,
}

impl Folders {
    /// Reads the parameters of `initialize`: the folders, or the one root of older clients.
    pub(crate) fn read(params: &Value) -> Folders {
        let address = |value: &Value| Url::parse(value.as_str()?).ok();
        let listed = params.get("workspaceFolders").and_then(Value::as_array);
        let addresses: Vec<Url> = match listed {
            Some(folders) => {
                let uris = folders.iter().filter_map(|folder| folder.get("uri"));
                uris.filter_map(address).collect()
            }
            None => params
                .get("rootUri")
                .and_then(address)
                .into_iter()
                .collect(),
        };
        let mut folders = Folders::default();
        folders.add(&addresses);
        folders
    }

    /// Adds folders, and gives where those that are new lie on this machine.
    fn add(&mut self, addresses: &[Url]) -> Vec<PathBuf> {
        let mut added = Vec::new();
        for uri in addresses {
            let path = path_of(uri).trim_end_matches('/').to_owned();
            if !self.paths.contains(&path) {
                added.extend(file_of(&format!("{path}/")));
                self.paths.push(path);
            }
        }
        added
    }

    /// Follows a change, and gives where the new folders lie on this machine.
    pub(crate) fn change(&mut self, event: &WorkspaceFoldersChangeEvent) -> Vec<PathBuf> {
        for folder in &event.removed {
            let path = path_of(&folder.uri).trim_end_matches('/').to_owned();
            self.paths.retain(|known| *known != path);
        }
        let added: Vec<Url> = event
            .added
            .iter()
            .map(|folder| folder.uri.clone())
            .collect();
        self.add(&added)
    }

    /// Where all folders lie on this machine.
    pub(crate) fn on_disk(&self) -> Vec<PathBuf> {
        let folders = self.paths.iter();
        folders
            .filter_map(|path| file_of(&format!("{path}/")))
            .collect()
    }

    /// Whether a calculation lies in one of them.
    pub(crate) fn have(&self, path: &str) -> bool {
        path.ends_with(".haunch")
            && self.paths.iter().any(|folder| {
                path.strip_prefix(folder.as_str())
                    .is_some_and(|rest| rest.starts_with('/'))
            })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn folders_or_the_root() {
        let several = json!({"workspaceFolders": [
            {"uri": "file:///work/a", "name": "a"}, {"uri": "file:///work/b/", "name": "b"}
        ], "rootUri": "file:///work"});
        let folders = Folders::read(&several);
        assert!(folders.have("/work/a/x.haunch") && folders.have("/work/b/c/x.haunch"));
        assert!(!folders.have("/work/x.haunch") && !folders.have("/work/ab/x.haunch"));
        let root = Folders::read(&json!({"rootUri": "file:///work", "workspaceFolders": null}));
        assert!(root.have("/work/x.haunch") && !root.have("/work/x.txt"));
        assert!(
            Folders::read(&json!({"workspaceFolders": 7}))
                .on_disk()
                .is_empty()
        );
    }
}
