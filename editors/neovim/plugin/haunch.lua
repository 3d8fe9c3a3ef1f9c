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
