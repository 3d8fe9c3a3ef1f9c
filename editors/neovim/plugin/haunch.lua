vim.lsp.enable("haunch")

vim.api.nvim_create_autocmd("LspAttach", {
  group = vim.api.nvim_create_augroup("haunch", {}),
  callback = function(attached)
    local client = vim.lsp.get_client_by_id(attached.data.client_id)
    if client and client.name == "haunch" then
      vim.lsp.inlay_hint.enable(true, { bufnr = attached.buf })
    end
  end,
})

-- A page about a finding has an address of the server's own; the server gives its text.
vim.api.nvim_create_autocmd("BufReadCmd", {
  group = "haunch",
  pattern = "haunch-page://*",
  callback = function(opened)
    local client = vim.lsp.get_clients({ name = "haunch" })[1]
    if not client then
      return
    end
    local asked = { command = "haunch.page", arguments = { vim.api.nvim_buf_get_name(opened.buf) } }
    local answer = client:request_sync("workspace/executeCommand", asked, 1000)
    local text = answer and answer.result or "The page cannot be shown."
    vim.api.nvim_buf_set_lines(opened.buf, 0, -1, false, vim.split(vim.trim(text), "\n"))
    vim.bo[opened.buf].buftype = "nofile"
    vim.bo[opened.buf].filetype = "markdown"
    vim.bo[opened.buf].modifiable = false
  end,
})
