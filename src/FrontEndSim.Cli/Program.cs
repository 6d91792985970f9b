System.Console.Error.WriteLine("frontendsim: no verb given"); return 2;
